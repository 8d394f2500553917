"""`board show`: any view as plain text, for a printer or a script."""

from datetime import UTC, datetime
from pathlib import Path

import click

from board.commands.open_board import house_of, ledger_meant
from board.commands.options import at_option, ledger_option
from board.house.years import day_meant

LOAD = "load"
VIEWS = ("opening", "tomorrow", "service", "batches", "record", LOAD)


@click.command("show")
@click.argument("view", type=click.Choice(VIEWS, case_sensitive=False))
@click.option("--day", metavar="DATE", help="The day Tomorrow shows, such as 2026-12-19; today or tomorrow.")
@click.option("--load", metavar="ID", help="The load that `load` shows, such as 1219-brisket-1.")
@at_option
@ledger_option
@click.option(
    "--width", type=click.IntRange(40, 400), default=80, show_default=True, help="Columns of the page."
)
def command(
    *, view: str, day: str | None, load: str | None, at: str | None, ledger: Path | None, width: int
) -> None:
    """Print VIEW as plain text: opening, tomorrow, service, batches, record or one load."""
    from board.ledger.doubtful import passed  # noqa: PLC0415
    from board.ledger.when import moment_or_now  # noqa: PLC0415 - help needs neither ledger nor sheets
    from board.sheets.load_sheet import load_sheet  # noqa: PLC0415
    from board.sheets.sheet import sheet  # noqa: PLC0415

    if view != LOAD and load is not None:
        raise click.UsageError(f"--load goes with board show load alone, not with {view}")

    with ledger_meant(ledger) as found:
        house, now = house_of(found), moment_or_now(at, found.zone, passed(found, datetime.now(UTC)))
        shown = day_meant(day, found.day(now)) if day is not None else None
        if view == LOAD:
            click.echo(load_sheet(found, house, load or "", now, width=width), nl=False)
        else:
            click.echo(sheet(found, house, view, now, day=shown, width=width), nl=False)
