"""`board watch`: begin and end a watch over food, see what is due, and check a probe."""

import json
from pathlib import Path
from typing import TYPE_CHECKING

import click

from board.commands.backing import backed_up
from board.commands.recording import document, options, tell, who_and_when
from board.house.model import House
from board.ledger import read, write
from board.ledger.open import Ledger, open_ledger
from board.ledger.state import Entry, ProbeWay, WatchEnd, WatchKind
from board.ledger.watching import Watched
from board.ledger.where import ledger_path
from board.safety.thawing import Way

if TYPE_CHECKING:
    from board.views.checks import Check
    from board.views.facts import Facts

_FREEZER = {"frozen": write.freeze, "thawed": write.take_out}
_ENDS = [*map(str, WatchEnd), *_FREEZER]


@click.group("watch")
def command() -> None:
    """Watch food as it cools, reheats, thaws, tempers, or is kept hot, cold or for days."""


@command.command("begin")
@click.argument("kind", type=click.Choice([str(kind) for kind in WatchKind], case_sensitive=False))
@click.argument("food")
@click.option("--load", metavar="ID", help="The load it came from.")
@click.option("--place", metavar="PLACE", help="Where it is.")
@click.option("--way", type=click.Choice([str(way) for way in Way]), help="How it is thawed.")
@options
def begin(
    kind: str,
    food: str,
    *,
    load: str | None,
    place: str | None,
    way: str | None,
    at: str | None,
    who: str | None,
    ledger: Path | None,
    as_json: bool,
) -> None:
    """Begin a watch of KIND over FOOD, such as: board watch begin cooling 'pulled pork, 2 pans'."""
    with backed_up(open_ledger(ledger_path(ledger))) as opened:
        watched = Watched(WatchKind(kind), food, load=load, place=place, way=way)
        entry = write.start_watch(opened, watched, **who_and_when(opened, who, at))
        tell(opened, entry, as_json, f"{entry.subject}, {food}, {kind}, begun")


@command.command("end")
@click.argument("watch")
@click.option("--as", "how", type=click.Choice(_ENDS), required=True, help="What became of it.")
@options
def end(watch: str, *, how: str, at: str | None, who: str | None, ledger: Path | None, as_json: bool) -> None:
    """End WATCH, or move its lot into the freezer (frozen) or out of it (thawed)."""
    with backed_up(open_ledger(ledger_path(ledger))) as opened:
        said = who_and_when(opened, who, at)
        act = _FREEZER.get(how)
        entry = act(opened, watch, **said) if act else write.end_watch(opened, watch, WatchEnd(how), **said)
        tell(opened, entry, as_json, f"{watch} {how}")


@command.command(
    "probe", context_settings={"ignore_unknown_options": True}
)  # so that '-1 C' is a temperature
@click.argument("probe")
@click.argument("way", type=click.Choice([str(way) for way in ProbeWay]))
@click.argument("temperature")
@options
def probe(
    probe: str,
    way: str,
    temperature: str,
    *,
    at: str | None,
    who: str | None,
    ledger: Path | None,
    as_json: bool,
) -> int:
    """Record the TEMPERATURE that PROBE read in ice or boiling water; ends with 1 when too far off."""
    from board.house.units import parse_temperature_c  # noqa: PLC0415 - help needs no units

    celsius = parse_temperature_c(temperature)
    with backed_up(open_ledger(ledger_path(ledger))) as opened:
        house = _known(opened)
        said = who_and_when(opened, who, at)
        entry = write.check_probe(opened, probe, ProbeWay(way), celsius, house.altitude_m, **said)
        return _judge(opened, house, entry, as_json)


def _judge(ledger: Ledger, house: House, entry: Entry, as_json: bool) -> int:
    from board.views.probes import probe_failed, probe_word  # noqa: PLC0415

    tell(ledger, entry, as_json, f"{entry.subject}: {probe_word(house, entry.data)}")
    return 1 if probe_failed(house, entry.data) else 0


@command.command("list")
@options
def listed(*, at: str | None, who: str | None, ledger: Path | None, as_json: bool) -> int:
    """What is watched now and what is due; ends with 1 where something is not as its rule asks."""
    from board.ledger.doubtful import passed  # noqa: PLC0415
    from board.views.failing import failing  # noqa: PLC0415
    from board.views.gather import gather  # noqa: PLC0415

    with open_ledger(ledger_path(ledger)) as opened:
        said = who_and_when(opened, who or "nobody", at)
        moment = said["at"] if at else passed(opened, said["noted_at"])
        facts = gather(opened, _known(opened), moment)
        fails = [line.says for line in failing(facts)]
        if as_json:
            watches = [document(opened, entry) for entry in _begun(opened, facts)]
            click.echo(json.dumps({"watches": watches, "due": _due(facts), "failing": fails}, indent=2))
        else:
            _print(facts, fails)
    return 1 if fails else 0


def _begun(ledger: Ledger, facts: "Facts") -> list[Entry]:
    from board.views.watching import running  # noqa: PLC0415

    found = (read.entry(ledger, watch.seq) for watch in running(facts))
    return [entry for entry in found if entry is not None]


def _due(facts: "Facts") -> list[dict[str, str]]:
    from board.house.calendar import local  # noqa: PLC0415

    return [
        {"at": local(check.at, facts.house).isoformat(timespec="minutes"), "says": check.says}
        for check in _ahead(facts)
    ]


def _ahead(facts: "Facts") -> "list[Check]":
    from board.views.checks import checks  # noqa: PLC0415
    from board.views.do_next import AHEAD  # noqa: PLC0415

    return checks(facts, facts.now + AHEAD)


def _print(facts: "Facts", fails: list[str]) -> None:
    from board.views.days import when  # noqa: PLC0415
    from board.views.subjects import food  # noqa: PLC0415
    from board.views.watching import running  # noqa: PLC0415

    for watch in running(facts):
        click.echo(f"{watch.id}  {food(watch)}, {watch.kind}")
    for check in _ahead(facts):
        click.echo(f"{when(facts, check.at)}  {check.says}")
    for says in fails:
        click.echo(f"! {says}")


def _known(ledger: Ledger) -> House:
    from board.commands.open_board import house_of  # noqa: PLC0415

    return house_of(ledger)
