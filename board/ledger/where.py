"""Where this house's ledger is: the flag, else the environment, else the current folder."""

import os
from collections.abc import Mapping
from pathlib import Path

VARIABLE = "BOARD_LEDGER"
DEFAULT = Path("board.db")


def ledger_path(flag: Path | None = None, environment: Mapping[str, str] = os.environ) -> Path:
    """The ledger file to use; of a link, the file it leads to: what lies beside a ledger lies beside that.

    Args:
        flag: what `--ledger` names, if it was given; it goes before everything.
        environment: where BOARD_LEDGER may name it; an empty value counts as none.
    """
    named = environment.get(VARIABLE, "")
    path = flag if flag is not None else Path(named) if named else DEFAULT
    return Path(os.path.realpath(path)) if path.is_symlink() else path
