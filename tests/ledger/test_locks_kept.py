"""Who looks at the file of a ledger that it has open keeps its locks on it: nobody takes its log away.

To close a file gives up the POSIX locks that the process has on it
(https://www.sqlite.org/howtocorrupt.html, 2.2);
the last to close a database in WAL mode then takes away the log that is still written to.
"""

import subprocess
import sys
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

import pytest

from board.errors import BoardError
from board.house.put_file import put_file
from board.ledger import read, write
from board.ledger.doctor.examine import examine
from board.ledger.open import create_ledger, open_ledger

from .by_hand import EVENING

ANOTHER = "import sys; from board.ledger.open import open_ledger; open_ledger(sys.argv[1]).close()"


def export_over(path: Path) -> None:
    """Have an export over the ledger refused."""
    with suppress(BoardError):
        put_file(path, b"new")


@pytest.mark.parametrize("look", [export_over, examine])
def test_what_is_recorded_after_a_look_stays(tmp_path: Path, look: Callable[[Path], object]) -> None:
    """Another program opens and closes the ledger after the look; what is recorded then is there for all."""
    path = tmp_path / "board.db"
    said = {"who": "ines", "at": EVENING, "noted_at": EVENING}
    with create_ledger(path, "Row", "America/Chicago", tmp_path) as ledger:
        write.note(ledger, "before", **said)
        look(path)
        subprocess.run([sys.executable, "-c", ANOTHER, str(path)], check=True)
        write.note(ledger, "after", **said)
        with open_ledger(path) as other:
            notes = read.entries(other, kinds=["note"])
            assert [entry.data["text"] for entry in notes] == ["before", "after"]
