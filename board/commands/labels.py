"""`board labels`: the labels of batches, as text or as a PDF."""

from collections.abc import Sequence
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from board.commands.open_board import house_of, ledger_meant
from board.commands.options import at_option, ledger_option
from board.errors import LedgerError
from board.house.put_file import put_file
from board.house.years import day_meant
from board.sheets.papers import PAPERS

if TYPE_CHECKING:
    from board.house.model import House
    from board.ledger.open import Ledger
    from board.views.labels import Label


@click.command("labels")
@click.option(
    "--batch", "names", multiple=True, metavar="LOT", help="A batch by its lot or id. May be repeated."
)
@click.option("--day", metavar="DATE", help="The batches made on a day, or to be made: 2026-12-19 [today].")
@at_option
@click.option("--copies", type=click.IntRange(1, 240), default=1, show_default=True, help="Of each label.")
@click.option(
    "--paper",
    type=click.Choice(list(PAPERS)),
    default="a4",
    show_default=True,
    help="24 on a sheet, or one a page.",
)
@click.option("--out", type=click.Path(path_type=Path), metavar="FILE.pdf", help="Write a PDF there [text].")
@ledger_option
@click.option("--width", type=click.IntRange(40, 400), default=80, show_default=True, help="Columns of text.")
def command(
    *,
    names: tuple[str, ...],
    day: str | None,
    at: str | None,
    copies: int,
    paper: str,
    out: Path | None,
    ledger: Path | None,
    width: int,
) -> None:
    """Print the labels of a day's batches, or of those named, as text or with --out as a PDF."""
    from board.house.wording import count  # noqa: PLC0415 - help needs neither ledger nor sheets
    from board.ledger.when import moment_or_now  # noqa: PLC0415 - help needs neither ledger nor sheets
    from board.sheets.labels import labels_pdf, labels_text  # noqa: PLC0415

    opened = ledger_meant(ledger)
    if names and day is not None:
        raise click.UsageError("--batch names the batches already; leave --day out")
    with opened as found:
        now, house = moment_or_now(at, found.zone, datetime.now(UTC)), house_of(found)
        once = _named(found, house, names) if names else _of_day(found, house, day, now)
    printed = [one for one in once for _ in range(copies)]
    if not printed:
        raise LedgerError("no batch is made on that day; name one with --batch LOT, or another --day")
    if out is None:
        click.echo(labels_text(printed, width), nl=False)
    else:
        put_file(out, labels_pdf(printed, paper))
        click.echo(f"{count(len(printed), 'label')} written to {out}", err=True)


def _of_day(ledger: "Ledger", house: "House", typed: str | None, now: datetime) -> "list[Label]":
    from board.house.calendar import day_bounds  # noqa: PLC0415
    from board.views.gather import gather  # noqa: PLC0415
    from board.views.labels import labels_of_day  # noqa: PLC0415

    today = ledger.day(now)
    day = day_meant(typed, today) if typed is not None else today
    moment = now if day == today else day_bounds(day, house.zone)[0]
    return labels_of_day(gather(ledger, house, moment), day)


def _named(ledger: "Ledger", house: "House", names: Sequence[str]) -> "list[Label]":
    from board.ledger import read  # noqa: PLC0415
    from board.views.batch_card import planned  # noqa: PLC0415
    from board.views.gather import gather  # noqa: PLC0415
    from board.views.labels import labels  # noqa: PLC0415
    from board.views.reference import ref  # noqa: PLC0415

    found = []
    for name in names:
        state = next(iter(read.batches_named(ledger, name)), None)
        if state is None:
            raise LedgerError(f"there is no batch of the lot or id {name}; board show batches lists them")
        facts = gather(ledger, house, state.made_at or state.make_by or datetime.now(UTC))
        pair = planned(facts, ref(state.day, state.id))
        if pair is None:
            raise LedgerError(f"{name} is in no plan in force any more; plan {state.day} again")
        found += labels(facts, *pair)
    return found
