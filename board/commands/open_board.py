"""`board` without a command: the board on this house's ledger, or how to start one."""

from pathlib import Path

import click

from board.commands.backing import backed_up
from board.errors import LedgerError
from board.house.model import House
from board.ledger.open import Ledger, create_ledger, open_ledger
from board.ledger.where import ledger_path


def open_board() -> None:
    """Open the board on this folder's ledger, and end with its exit code.

    A house's folder without a ledger gets one. Without either, a terminal is led through making a house;
    elsewhere it is an error that says how to start.
    """
    click.get_current_context().exit(_opened())


def _opened() -> int:
    from board.app.clock import BoardClock  # noqa: PLC0415 - help needs no clock
    from board.commands.opening_up import has_screen, open_up  # noqa: PLC0415
    from board.ledger.doubtful import expected  # noqa: PLC0415

    found = find_ledger()
    if found is not None:
        with found as ledger:
            return open_up(ledger, house_of(ledger), BoardClock(expected(ledger)))
    if not has_screen():
        raise LedgerError("there is no ledger here; board house new DIR starts a house, board demo shows one")
    from board.commands.first_run import first_run  # noqa: PLC0415

    return first_run()


def find_ledger(flag: Path | None = None) -> Ledger | None:
    """The ledger meant, opened; started where this folder is a house's and has none yet; or None."""
    path = ledger_path(flag)
    if path.exists() or flag is not None:
        return backed_up(open_ledger(path))
    here = Path.cwd()
    if not (here / "house.toml").is_file():
        return None
    from board.house.files import read_house  # noqa: PLC0415

    house = read_house(here)
    return create_ledger(path, house.name, house.zone, here)


def ledger_meant(flag: Path | None) -> Ledger:
    """The ledger meant, opened, for a command that is about one.

    Raises:
        LedgerError: there is none.
    """
    found = find_ledger(flag)
    if found is None:
        raise LedgerError(
            f"there is no ledger {ledger_path(flag)} here; name it with --ledger, or see board demo"
        )
    return found


def house_of(ledger: Ledger) -> House:
    """The house a ledger belongs to, read from its folder.

    Raises:
        LedgerError: when the ledger was started without a house.
    """
    from board.house.files import read_house  # noqa: PLC0415

    if ledger.house is None:
        raise LedgerError(f"{ledger.path} belongs to no house; start one in a house's folder with: board")
    return read_house(Path(ledger.house.folder))
