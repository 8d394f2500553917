"""Options that several commands have, so that they read alike in each."""

from pathlib import Path

import click

ledger_option = click.option(
    "--ledger", type=click.Path(path_type=Path), help="The ledger file [board.db, or BOARD_LEDGER]."
)
at_option = click.option("--at", metavar="TIME", help="As of this moment: 05:40, or 2026-12-19T05:40 [now].")
