"""Opening the board on a ledger: on the screen where there is one, else the Opening view as text."""

import os
import sys
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

import click

from board.commands.options import screen_flags
from board.commands.people import id_named
from board.errors import LedgerError
from board.house.model import House
from board.house.wording import in_list
from board.ledger.open import Ledger

if TYPE_CHECKING:
    from board.app.clock import Clock
    from board.app.settled import Settled
    from board.views.inspection import Inspection
    from board.views.labels import Label

SERVED = "board.app.served:ServedDriver"  # how a board in a browser is told to draw there


def has_screen(environment: Mapping[str, str] = os.environ) -> bool:
    """Whether a full-screen board can be drawn: a terminal on both sides that moves its cursor, or a page."""
    if environment.get("TEXTUAL_DRIVER") == SERVED:
        return True
    sides = (sys.stdout, sys.stdin)  # None where the shell closed one, as in `board >&-`
    return environment.get("TERM", "") != "dumb" and all(side is not None and side.isatty() for side in sides)


def open_up(ledger: Ledger, house: House, clock: "Clock") -> int:
    """Run the board as its settings say, or print the Opening view; returns the exit code."""
    if not has_screen():
        from board.sheets.sheet import sheet  # noqa: PLC0415 - the screen needs no sheets

        click.echo(sheet(ledger, house, "opening", clock.now()), nl=False)
        return 0
    from board.app.warming import hold_garbage  # noqa: PLC0415 - a sheet needs no screen

    hold_garbage()
    from board.app.app import run  # noqa: PLC0415
    from board.app.planner import plan  # noqa: PLC0415
    from board.app.session import Session  # noqa: PLC0415

    flags = screen_flags(click.get_current_context())
    settled = settled_by(flags)
    who = person_meant(house, settled.settings.who, strict="who" in flags)
    session = Session(
        ledger, house, clock, plan, who=who, label_printer=_labels_printed, record_printer=_record_printed
    )
    return run(session, settled, mouse=flags.get("mouse", True))


def settled_by(flags: Mapping[str, Any]) -> "Settled":
    """The settings that hold with the flags given."""
    from board.app.settings_file import theme_named  # noqa: PLC0415 - only a screen has settings
    from board.app.settled import settle  # noqa: PLC0415

    theme = theme_named(flags["theme"]) if "theme" in flags else None
    return settle({**flags, "theme": theme})


def person_meant(house: House, named: str, *, strict: bool) -> str:
    """The id of somebody named by id or by name; a name of nobody's is kept as it is, unless `strict`.

    Raises:
        LedgerError: `strict`, and nobody of the crew is called so.
    """
    meant = id_named(house.people, named)
    if strict and named and meant not in house.people:
        crew = in_list([person.name for person in house.people.values()]) or "nobody: crew.toml names no one"
        raise LedgerError(f"--who: found {named!r}, allowed {crew}")
    return meant


def _record_printed(view: "Inspection") -> bytes:
    from board.sheets.record_pdf import record_pdf  # noqa: PLC0415 - nothing is printed until it is asked for

    return record_pdf(view)


def _labels_printed(labels: "Sequence[Label]") -> bytes:
    from board.sheets.labels import labels_pdf  # noqa: PLC0415 - nothing is printed until it is asked for

    return labels_pdf(labels, "single")
