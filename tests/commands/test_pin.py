"""`board pin set` and `board record --sign`: a PIN is asked unseen, and never stands in an argument."""

import io
from pathlib import Path
from shutil import copytree

import pytest

from board.ledger import read, scrypt
from board.ledger.open import create_ledger, open_ledger
from board.ledger.scrypt import Cost

from .conftest import say

SEED = Path(__file__).parents[2] / "seeds" / "tallow_row"
PIN = "pit 4711"


@pytest.fixture(autouse=True)
def cheap(monkeypatch: pytest.MonkeyPatch) -> None:
    """New PINs are hashed in no time."""
    monkeypatch.setattr(scrypt, "COST", Cost(2, 1, 1))


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A ledger of a house that asks for a PIN."""
    folder = copytree(SEED, tmp_path / "house")
    with (folder / "house.toml").open("a", encoding="utf-8") as house:
        house.write("\n[signing]\npin = true\n")
    create_ledger(tmp_path / "board.db", "Tallow Row", "America/Chicago", folder).close()
    return tmp_path / "board.db"


class Commands:
    """Commands on one ledger, each given its standard input."""

    def __init__(self, path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]):
        self.path, self._patch, self._capsys = path, monkeypatch, capsys

    def __call__(self, *words: str, lines: str = "") -> tuple[int, str]:
        """The exit code, and all that was said."""
        self._patch.setattr("sys.stdin", io.StringIO(lines))
        code, out, err = say(self._capsys, *words, "--ledger", str(self.path))
        return code, out + err

    def kinds(self) -> list[str]:
        """What was recorded."""
        with open_ledger(self.path) as ledger:
            return [entry.kind for entry in read.entries(ledger)]


@pytest.fixture
def board(path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Commands:
    """Commands on that ledger."""
    return Commands(path, monkeypatch, capsys)


def test_a_pin_is_set_changed_and_forgotten(board: Commands) -> None:
    """First the new one alone, then the old and the new, then the new one and a word in the record."""
    assert board("pin", "set", "ines", lines=f"{PIN}\n") == (0, "Ines has a PIN for signing (entry 1)\n")
    code, says = board("pin", "set", "Ines", lines="wrong one\nother 88\n")
    assert (code, says) == (2, "board: that PIN is wrong; try again\n")
    assert board("pin", "set", "ines", lines=f"{PIN}\nother 88\n")[0] == 0
    assert board("pin", "set", "ines", "--forgotten", lines=f"{PIN}\n")[0] == 0
    assert board.kinds() == ["pin set"] * 3


def test_nothing_on_standard_input_is_one_line(board: Commands) -> None:
    """And nothing is set."""
    code, says = board("pin", "set", "ines")
    assert (code, says.startswith("board: new PIN of Ines: nothing was on standard input")) == (2, True)
    assert board.kinds() == []


def test_the_record_is_signed_with_a_pin_only(board: Commands) -> None:
    """Without one set, or with a wrong one, nothing is signed; with the right one it says so."""
    code, says = board("record", "--sign", "ines", lines=f"{PIN}\n")
    assert (code, "board: ines has no PIN yet; set one in a terminal: board pin set" in says) == (2, True)
    board("pin", "set", "ines", lines=f"{PIN}\n")
    assert board("record", "--sign", "ines", lines="wrong one\n")[0] == 2
    assert board.kinds() == ["pin set"]
    code, says = board("record", "--sign", "Ines", lines=f"{PIN}\n")
    assert "the PIN of Ines was shown; 1 wrong PIN was tried before\n" in says
    assert (code, board.kinds()) == (0, ["pin set", "signature"])
    assert '"pin": true' in board("record", "--json")[1]


def test_a_pin_is_no_argument(board: Commands) -> None:
    """Arguments stand in the shell's history and in the list of processes."""
    assert board("pin", "set", "ines", PIN)[0] == 2
    assert board("pin", "set", "ines", "--pin", PIN)[0] == 2
    assert board.kinds() == []


def test_a_house_that_does_not_ask_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """The PIN is set, and a line says what makes the house ask for it; signing goes on without."""
    create_ledger(tmp_path / "b.db", "Tallow Row", "America/Chicago", SEED).close()
    board = Commands(tmp_path / "b.db", monkeypatch, capsys)
    code, says = board("pin", "set", "ines", lines=f"{PIN}\n")
    assert (code, "[signing] and pin = true" in says) == (0, True)
    assert board("record", "--sign", "ines")[0] == 0
