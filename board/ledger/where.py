"""Where this house's ledger is: the flag, else the environment, else the current folder."""

import os
from collections.abc import Mapping
from pathlib import Path

VARIABLE = "BOARD_LEDGER"
DEFAULT = Path("board.db")


def ledger_path(flag: Path | None = None, environment: Mapping[str, str] = os.environ) -> Path:
    """The ledger file to use.

    Args:
        flag: what `--ledger` names, if it was given; it goes before everything.
        environment: where BOARD_LEDGER may name it; an empty value counts as none.
    """
    if flag is not None:
        return flag
    named = environment.get(VARIABLE, "")
    return Path(named) if named else DEFAULT
