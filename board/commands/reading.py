"""`board reading`: record a temperature of a load, a pit, a hold, the walk-in or a batch."""

from datetime import datetime
from pathlib import Path

import click

from board.commands.backing import backed_up
from board.commands.outlet import say_beside
from board.commands.recording import house_of, options, tell, who_and_when
from board.errors import LedgerError
from board.house.model import House
from board.house.units import format_temperature, parse_temperature_c
from board.ledger import find, read, write
from board.ledger.open import Ledger, open_ledger
from board.ledger.state import Entry
from board.ledger.where import ledger_path


@click.command(context_settings={"ignore_unknown_options": True})  # so that '-18 C' is a temperature
@click.argument("place")
@click.argument("temperature")
@options
def command(
    place: str, temperature: str, *, at: str | None, who: str | None, ledger: Path | None, as_json: bool
) -> None:
    """Record the TEMPERATURE of PLACE.

    \b
    board reading 1219-brisket-1 '162 F'    the core of a load
    board reading North '107 °C'            the air of a pit or a hold, by its id or name
    board reading walk-in '38 F'            the walk-in
    board reading 1219-cooling-1 '140 F'    what is watched
    """
    core_or_air_c = parse_temperature_c(temperature)
    with backed_up(open_ledger(ledger_path(ledger))) as opened:
        said = who_and_when(opened, who, at)
        house = house_of(opened)
        if find.is_known(opened, "loads", place, said["at"]):
            entry = write.take_reading(opened, core_or_air_c, load=place, **said)
        else:
            known = _known_place(opened, house, place, said["at"])
            entry = write.take_reading(opened, core_or_air_c, place=known, **said)
        shown = format_temperature(core_or_air_c, house.display) if house else f"{core_or_air_c:.1f} °C"
        tell(opened, entry, as_json, f"{entry.subject} {shown}")
        if not_counted := _why_not_counted(opened, house, entry):
            say_beside(f"not counted in the estimate: {not_counted}", as_json=as_json)


def _why_not_counted(ledger: Ledger, house: House | None, entry: Entry) -> str:
    """Why a new reading is left out of the estimates; empty where it counts or bears on none.

    Where that cannot be read, a word says so: the reading is recorded all the same.
    """
    from board.views.gather import gather  # noqa: PLC0415 - views and sums load for what cooks alone
    from board.views.left_out import why_not_counted  # noqa: PLC0415

    try:
        return why_not_counted(gather(ledger, house, entry.noted_at), entry) if house else ""
    except LedgerError as error:
        click.echo(f"board: whether it counts cannot be said: {error}", err=True)
        return ""


def _known_place(ledger: Ledger, house: House | None, place: str, at: datetime) -> str:
    """The id of a place known by that id or name; as typed when there is no house to ask."""
    if read.watch(ledger, place) is not None:
        return place
    if house is None or find.is_known(ledger, "batches", place, at):
        return place
    from board.views.gather import WALK_IN  # noqa: PLC0415 - views load only where there is a house

    names = {pit.id: pit.name for pit in house.pits.values()}
    names |= {hold.id: hold.name for hold in house.holds.values()}
    for place_id, name in names.items():
        if place.casefold() in (place_id.casefold(), name.casefold()):
            return place_id
    if place.casefold() == WALK_IN:
        return WALK_IN
    watched = ", ".join(watch.id for watch in read.watches(ledger))
    of = f"a load, a batch, what is watched ({watched})" if watched else "a load, a batch"
    raise LedgerError(f"there is no {place}; a reading is of {of}, or one of {', '.join([*names, WALK_IN])}")
