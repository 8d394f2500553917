"""`board list`: what to buy and what to pull out, over some days."""

import json
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

import click

from board.commands.open_board import house_of, ledger_meant
from board.commands.options import at_option, ledger_option
from board.house.years import days_meant

if TYPE_CHECKING:
    from board.views.facts import Facts

LONGEST_DAYS = 60
CURED_AHEAD = timedelta(days=21)  # batches of the span may be for days so much later


@click.command("list")
@click.argument("folder", metavar="[HOUSE]", type=click.Path(path_type=Path), required=False)
@click.option("--from", "first", metavar="DATE", help="The first day: 2026-12-19, today, tomorrow [today].")
@click.option("--to", "last", metavar="DATE", help="The last day, in it [the first].")
@click.option(
    "--plan",
    "plans",
    multiple=True,
    type=click.Path(path_type=Path),
    metavar="PLAN.json",
    help="With HOUSE: a plan as board plan --json prints it. May be repeated.",
)
@at_option
@click.option("--csv", "as_csv", is_flag=True, help="Print rows for a spreadsheet.")
@click.option("--json", "as_json", is_flag=True, help="Print one JSON document.")
@ledger_option
@click.option("--width", type=click.IntRange(40, 400), default=80, show_default=True, help="Columns of text.")
def command(
    *,
    folder: Path | None,
    first: str | None,
    last: str | None,
    plans: tuple[Path, ...],
    at: str | None,
    as_csv: bool,
    as_json: bool,
    ledger: Path | None,
    width: int,
) -> None:
    """List what to have in the house and what to pull out from one day to another.

    Counted from the plans committed in the ledger, less what is made and begun; or, with a HOUSE folder, from
    the plans given with --plan.
    """
    from board.sheets.lists_sheet import lists_csv, lists_document, lists_text  # noqa: PLC0415
    from board.views.lists import lists  # noqa: PLC0415 - help needs neither ledger nor sheets

    if as_csv and as_json:
        raise click.UsageError("--csv and --json are two ways to print; take one")
    if (folder is not None) != bool(plans):
        raise click.UsageError("a HOUSE is listed from its plans: board list HOUSE --plan PLAN.json")
    facts, span = (
        _from_plans(folder, plans, (first, last), at)
        if folder is not None
        else _from_ledger(ledger, (first, last), at)
    )
    view = lists(facts, *span)
    if as_json:
        click.echo(json.dumps(lists_document(facts, view), ensure_ascii=False, indent=2))
    else:
        click.echo(lists_csv(facts, view) if as_csv else lists_text(facts, view, width), nl=False)


def _from_ledger(
    path: Path | None, typed: tuple[str | None, str | None], at: str | None
) -> "tuple[Facts, tuple[date, date]]":
    from board.ledger.doubtful import passed  # noqa: PLC0415
    from board.ledger.when import moment_or_now  # noqa: PLC0415
    from board.views.gather import AHEAD, gather  # noqa: PLC0415

    with ledger_meant(path) as found:
        house, now = house_of(found), moment_or_now(at, found.zone, passed(found, datetime.now(UTC)))
        today = found.day(now)
        span = _span(typed, today)
        ahead = max(AHEAD, span[1] - today + CURED_AHEAD)
        return gather(found, house, now, ahead=ahead), span


def _from_plans(
    folder: Path, plans: tuple[Path, ...], typed: tuple[str | None, str | None], at: str | None
) -> "tuple[Facts, tuple[date, date]]":
    from board.commands.plan_again import plan_from  # noqa: PLC0415
    from board.house.calendar import zone  # noqa: PLC0415
    from board.house.files import read_house  # noqa: PLC0415
    from board.ledger.when import moment_or_now  # noqa: PLC0415
    from board.views.facts import Facts  # noqa: PLC0415

    house = read_house(folder)
    now = moment_or_now(at, zone(house), datetime.now(UTC))
    read = [plan_from(path, "--plan", house) for path in plans]
    return Facts(house, now, {plan.day: plan for plan in read}), _span(
        typed, now.astimezone(zone(house)).date()
    )


def _span(typed: tuple[str | None, str | None], today: date) -> tuple[date, date]:
    """The days meant.

    Raises:
        click.UsageError: more days than a list is good for.
    """
    first, last = days_meant(*typed, today)
    if (last - first).days > LONGEST_DAYS:
        raise click.UsageError(f"from {first} to {last} is more than {LONGEST_DAYS} days; list fewer")
    return first, last
