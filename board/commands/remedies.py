"""`board remedies`: what would help a load that is late or early, without opening the board."""

import json
from datetime import UTC, datetime
from pathlib import Path

import click

from board.commands.open_board import house_of, ledger_meant
from board.commands.options import at_option, ledger_option


@click.command("remedies")
@click.argument("load", required=False)
@at_option
@ledger_option
@click.option(
    "--width", type=click.IntRange(40, 400), default=80, show_default=True, help="Columns of the page."
)
@click.option("--json", "as_json", is_flag=True, help="Print one JSON document.")
def command(*, load: str | None, at: str | None, ledger: Path | None, width: int, as_json: bool) -> None:
    """What would help LOAD, or each load that is late or may be: its time, its chance, its cost."""
    from board.ledger.doubtful import passed  # noqa: PLC0415
    from board.ledger.when import moment_or_now  # noqa: PLC0415 - help needs neither ledger nor sums
    from board.sheets.remedies_sheet import remedies_document, remedies_sheet  # noqa: PLC0415

    with ledger_meant(ledger) as found:
        house, now = house_of(found), moment_or_now(at, found.zone, passed(found, datetime.now(UTC)))
        if as_json:
            document = remedies_document(found, house, load, now)
            click.echo(json.dumps(document, ensure_ascii=False, indent=2))
        else:
            click.echo(remedies_sheet(found, house, load, now, width=width), nl=False)
