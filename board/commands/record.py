"""`board record`: the record of some days for an inspector, as text, PDF, CSV or JSON."""

import json
from collections.abc import Callable
from contextlib import nullcontext
from datetime import UTC, date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from board.commands.open_board import house_of, ledger_meant
from board.commands.options import ledger_option
from board.commands.outlet import say_done
from board.errors import BoardError
from board.house.calendar import day_bounds
from board.house.model import House
from board.house.put_file import put_files
from board.house.wording import count
from board.house.years import days_meant
from board.ledger.open import Ledger
from board.ledger.state import Entry

if TYPE_CHECKING:
    from board.views.inspection import Inspection


@click.command("record")
@click.option("--from", "since", metavar="DATE", default="today", help="The first day [today].")
@click.option("--to", "until", metavar="DATE", help="The last day [the first].")
@click.option("--pdf", "pdf_file", type=click.Path(path_type=Path), help="Write the print-out here.")
@click.option("--csv", "csv_file", type=click.Path(path_type=Path), help="Write a table here.")
@click.option("--json", "as_json", is_flag=True, help="Print one JSON document.")
@click.option(
    "--sign",
    metavar="WHO",
    help="Sign the record of these days first; asks for WHO's PIN where the house does.",
)
@click.option("--at", metavar="TIME", help="As of this moment [now].")
@ledger_option
def command(
    *,
    since: str,
    until: str | None,
    pdf_file: Path | None,
    csv_file: Path | None,
    as_json: bool,
    sign: str | None,
    at: str | None,
    ledger: Path | None,
) -> int:
    """Print what the record of some days proves: cooked, held, cooled, what failed, what was done.

    Ends with 1 where something failed, 0 where nothing did.
    """
    from board.ledger.when import moment_or_now  # noqa: PLC0415 - help needs no ledger
    from board.views.inspection import inspection  # noqa: PLC0415

    with ledger_meant(ledger) as found:
        house, now = house_of(found), moment_or_now(at, found.zone, datetime.now(UTC))
        first, last = _days(since, until, found.day(now))
        start, end = day_bounds(first, house.zone)[0], day_bounds(last, house.zone)[1]
        signs = _signing(found, house, (start, end), sign, now) if sign is not None else None
        with found.writing() if signs else nullcontext():  # signed and its files written, or neither
            signed = signs() if signs else None
            view = inspection(found, house, start, end, now)
            told = _write(view, pdf_file, csv_file)
    for line in told:
        click.echo(line, err=True)
    printed = _printed(view, as_json) if as_json or (pdf_file is None and csv_file is None) else ""
    if signed and printed:
        say_done(printed, f"the record is signed (entry {signed.seq})")
    elif printed:
        click.echo(printed)
    return 1 if view.failed or view.bad_probes else 0


def _days(since: str, until: str | None, today: date) -> tuple[date, date]:
    first, last = days_meant(since, until, today)
    if last < first:
        raise BoardError(f"--to: found {last}, allowed a day from --from, {first}, on")
    return first, last


def _signing(
    ledger: Ledger, house: House, span: tuple[datetime, datetime], who: str, now: datetime
) -> Callable[[], Entry]:
    """What signs the record, whoever signs having shown who they are."""
    from board.commands.pin import person_signing, shown_pin  # noqa: PLC0415 - few print-outs are signed
    from board.ledger import write  # noqa: PLC0415

    person = person_signing(ledger, who)
    vouched = shown_pin(ledger, person) if house.signs_with_pin else None
    return lambda: write.sign(ledger, *span, vouched=vouched, who=person, at=now, noted_at=now)


def _write(view: "Inspection", pdf_file: Path | None, csv_file: Path | None) -> list[str]:
    """Write the files asked for, and say so."""
    files: list[tuple[Path, bytes]] = []
    told = []
    if pdf_file is not None:
        from board.sheets.record_pdf import record_pdf  # noqa: PLC0415 - the PDF library is slow to load

        files.append((pdf_file, record_pdf(view)))
        told.append(f"{pdf_file} written, sha256 of its entries {view.sha256}")
    if csv_file is not None:
        from board.sheets.record_csv import record_csv  # noqa: PLC0415

        files.append((csv_file, record_csv(view).encode("utf-8-sig")))
        told.append(f"{csv_file} written, {count(len(view.entries), 'entry')}")
    put_files(files)
    return told


def _printed(view: "Inspection", as_json: bool) -> str:
    """The record as it is printed, without the end of its last line."""
    if as_json:
        from board.sheets.record_json import record_document  # noqa: PLC0415

        return json.dumps(record_document(view), ensure_ascii=False, indent=2)
    from board.sheets.record_text import record_text  # noqa: PLC0415

    return record_text(view).removesuffix("\n")
