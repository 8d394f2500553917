"""Options that several commands have, so that they read alike in each."""

from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

import click

Command = TypeVar("Command", bound=Callable[..., Any])

ledger_option = click.option(
    "--ledger", type=click.Path(path_type=Path), help="The ledger file [board.db, or BOARD_LEDGER]."
)
at_option = click.option("--at", metavar="TIME", help="As of this moment: 05:40, or 2026-12-19T05:40 [now].")
_SCREEN = (
    click.option("--theme", type=click.Choice(("dark", "light", "terminal")), help="Colours [BOARD_THEME]."),
    click.option("--ascii/--no-ascii", default=None, help="No glyph outside ASCII, or all [BOARD_ASCII]."),
    click.option("--motion/--no-motion", default=None, help="Whether anything moves [BOARD_MOTION]."),
    click.option("--bell/--no-bell", default=None, help="Whether alarms ring [BOARD_BELL]."),
    click.option("--mouse/--no-mouse", default=None, help="Leave the mouse to the terminal."),
    click.option("--who", metavar="NAME", help="Who is at the keys [BOARD_WHO]."),
)


def screen_options(command: Command) -> Command:
    """How the board is shown this once; each goes before the environment and the settings file."""
    for option in reversed(_SCREEN):
        command = option(command)
    return command


def screen_flags(ctx: click.Context) -> dict[str, Any]:
    """The screen options given, here or before a subcommand; those nearer go first."""
    outer = screen_flags(ctx.parent) if ctx.parent else {}
    known = {"theme", "ascii", "motion", "bell", "mouse", "who"}
    given = {key: value for key, value in ctx.params.items() if key in known and value is not None}
    return {**outer, **given}
