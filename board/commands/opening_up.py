"""Opening the board on a ledger: on the screen where there is one, else the Opening view as text."""

import os
import sys
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

import click

from board.house.model import House
from board.ledger.open import Ledger

if TYPE_CHECKING:
    from board.app.clock import Clock
    from board.views.inspection import Inspection
    from board.views.labels import Label

THEMES = {"dark": "ember", "light": "ash"}


def has_screen(environment: Mapping[str, str] = os.environ) -> bool:
    """Whether a full-screen board can be drawn: a terminal on both sides that can move its cursor."""
    sides = (sys.stdout, sys.stdin)  # None where the shell closed one, as in `board >&-`
    return environment.get("TERM", "") != "dumb" and all(side is not None and side.isatty() for side in sides)


def open_up(ledger: Ledger, house: House, clock: "Clock") -> int:
    """Run the board, or print the Opening view; returns the exit code.

    BOARD_THEME chooses the theme: dark or light. BOARD_WHO says who is at the keys.
    """
    if not has_screen():
        from board.sheets.sheet import sheet  # noqa: PLC0415 - the screen needs no sheets

        click.echo(sheet(ledger, house, "opening", clock.now()), nl=False)
        return 0
    from board.app.app import run  # noqa: PLC0415 - a sheet needs no screen
    from board.app.planner import plan  # noqa: PLC0415
    from board.app.session import Session  # noqa: PLC0415
    from board.app.settings import Settings  # noqa: PLC0415

    who = os.environ.get("BOARD_WHO", "")
    theme = THEMES.get(os.environ.get("BOARD_THEME", "dark"), THEMES["dark"])
    session = Session(
        ledger, house, clock, plan, who=who, label_printer=_labels_printed, record_printer=_record_printed
    )
    return run(session, Settings(theme=theme))


def _record_printed(view: "Inspection") -> bytes:
    from board.sheets.record_pdf import record_pdf  # noqa: PLC0415 - nothing is printed until it is asked for

    return record_pdf(view)


def _labels_printed(labels: "Sequence[Label]") -> bytes:
    from board.sheets.labels import labels_pdf  # noqa: PLC0415 - nothing is printed until it is asked for

    return labels_pdf(labels, "single")
