"""`board` where there is no house: the pages that make one, the invented house first, or another folder."""

import os
from collections.abc import Mapping
from datetime import date
from pathlib import Path

import click

from board.commands.options import screen_flags
from board.errors import BoardError
from board.house.calendar import named_zone


def first_run() -> int:
    """Lead a new house through making one until it is left; returns the exit code."""
    from board.app.founding.app import lead  # noqa: PLC0415
    from board.app.founding.place import usual_folder  # noqa: PLC0415 - only a screen has pages
    from board.commands.opening_up import settled_by  # noqa: PLC0415
    from board.house.founding import begun  # noqa: PLC0415
    from board.house.zones import zones  # noqa: PLC0415
    from board.views.founding import DEMO, START, Standing  # noqa: PLC0415

    flags = screen_flags(click.get_current_context())
    settings, here = settled_by(flags).settings, Path.cwd()
    zone = machine_zone()
    standing = Standing(START, begun(zone, zones().get(zone, "")), str(usual_folder(here, "")))
    while True:
        outcome = lead(standing, here, date.today(), settings, mouse=flags.get("mouse", True))
        if outcome.folder is not None:
            return _open(outcome.folder, here)
        if outcome.what != DEMO:
            return outcome.exit_code
        standing = outcome.standing
        if code := _demo():
            return code


def _demo() -> int:
    from board.commands.demo import command  # noqa: PLC0415

    return int(click.get_current_context().invoke(command, at=None) or 0)


def _open(folder: Path, here: Path) -> int:
    """Open the board on a house's folder, its ledger started where there is none."""
    from board.app.clock import BoardClock  # noqa: PLC0415
    from board.commands.opening_up import open_up  # noqa: PLC0415
    from board.house.files import read_house  # noqa: PLC0415
    from board.ledger.open import create_ledger, open_ledger  # noqa: PLC0415
    from board.ledger.where import DEFAULT  # noqa: PLC0415

    house, path = read_house(folder), folder / DEFAULT
    started = (
        open_ledger(path) if path.exists() else create_ledger(path, house.name, house.zone, folder.resolve())
    )
    with started as ledger:
        code = open_up(ledger, house, BoardClock())
    if folder.resolve() != here.resolve():
        click.echo(f"The house is in {folder}. Next time: cd {folder} && board")
    return code


def machine_zone(environment: Mapping[str, str] = os.environ) -> str:
    """The IANA time zone this machine is set to, where it can be told and is a place; else empty."""
    link = os.path.realpath("/etc/localtime")
    for name in (environment.get("TZ", "").lstrip(":"), link.partition("zoneinfo/")[2]):
        if "/" in name and not name.startswith("Etc/") and _is_zone(name):
            return name
    return ""


def _is_zone(name: str) -> bool:
    try:
        named_zone(name)
    except BoardError:
        return False
    return True
