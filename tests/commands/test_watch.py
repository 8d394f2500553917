"""`board watch`: a watch from the command line, what is due, and a probe check."""

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from board.ledger.open import create_ledger, open_ledger

from .conftest import say

SEED = Path(__file__).parents[2] / "seeds" / "tallow_row"
NOON = "2024-12-19T12:00-06:00"


@pytest.fixture
def asked(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Callable[..., tuple[int, str]]:
    """A command on a fresh ledger of the demo house: its exit code and what it printed."""
    path = tmp_path / "board.db"
    create_ledger(path, "Tallow Row", "America/Chicago", SEED).close()

    def ask(*words: str, at: str = NOON, who: str = "Ines") -> tuple[int, str]:
        given = ["--ledger", str(path), "--at", at, "--who", who]
        code, out, err = say(capsys, *words, *given)
        return code, out + err

    return ask


def test_a_tub_is_begun_read_and_ended(asked: Callable[..., tuple[int, str]]) -> None:
    """The whole of a cooling, in three commands."""
    code, says = asked("watch", "begin", "cooling", "pulled pork, 2 pans", "--place", "walk-in")
    assert (code, says.startswith("1219-cooling-1, pulled pork, 2 pans, cooling, begun")) == (0, True)
    code, says = asked("reading", "the pork", "140 F")
    assert (code, "a load, a batch, what is watched (1219-cooling-1), or one of north" in says) == (2, True)
    assert asked("reading", "1219-cooling-1", "140 F")[0] == 0
    code, says = asked("watch", "end", "1219-cooling-1", "--as", "discarded", at="2024-12-19T15:00-06:00")
    assert (code, "1219-cooling-1 discarded" in says) == (0, True)


def test_the_list_says_what_is_due_and_ends_with_bad_news(asked: Callable[..., tuple[int, str]]) -> None:
    """Nothing wrong is 0; a checkpoint missed is 1, with what to do."""
    asked("watch", "begin", "cooling", "beans")
    code, says = asked("watch", "list")
    assert (code, "read beans" in says) == (0, True)
    code, says = asked("watch", "list", "--json", at="2024-12-19T14:30-06:00")
    assert code == 1
    document = json.loads(says)
    assert [one["subject"] for one in document["watches"]] == ["1219-cooling-1"]
    assert document["failing"][0].startswith("beans: to be 70° by 14:00")


def test_a_lot_goes_into_the_freezer(asked: Callable[..., tuple[int, str]]) -> None:
    """Frozen, thawed, and frozen again; twice frozen is refused."""
    asked("watch", "begin", "date-marked", "beans")
    assert asked("watch", "end", "1219-date-marked-1", "--as", "frozen")[0] == 0
    assert asked("watch", "end", "1219-date-marked-1", "--as", "frozen")[0] == 2
    assert asked("watch", "end", "1219-date-marked-1", "--as", "thawed")[0] == 0


def test_a_probe_too_far_off_is_bad_news(asked: Callable[..., tuple[int, str]]) -> None:
    """Tallow Row lies at 180 m: water boils there at 99.4 °C, so 99 °C is near enough and 96 °C is not."""
    assert asked("watch", "probe", "red", "boiling", "99 C")[0] == 0
    code, says = asked("watch", "probe", "red", "boiling", "96 C")
    assert (code, "too far off" in says) == (1, True)
    assert asked("watch", "probe", "red", "ice", "-0.5 C")[0] == 0


@pytest.mark.parametrize(
    "wrong",
    [
        ("watch", "begin", "boiling", "beans"),
        ("watch", "end", "tub", "--as", "done"),
        ("watch", "begin", "cooling", ""),
        ("watch", "begin", "cooling", "\u200b"),
        ("watch", "probe", "red", "ice", "cold"),
    ],
    ids=["no kind", "no watch", "no food", "unseen food", "no degrees"],
)
def test_what_is_wrong_is_told_in_a_line(
    asked: Callable[..., tuple[int, str]], wrong: tuple[str, ...]
) -> None:
    """Exit code 2 and one line."""
    code, says = asked(*wrong)
    assert (code, says.count("\n")) == (2, 1)


def test_what_was_typed_is_said_again_on_one_line(asked: Callable[..., tuple[int, str]]) -> None:
    """Escape codes, turned text and new lines in a name are not handed on to the terminal."""
    code, says = asked("watch", "begin", "cooling", "\x1b[31mbeans\u202e\nin pans\x07")
    assert (code, says.count("\n")) == (0, 1)
    assert says.rstrip("\n").isprintable()


def test_a_house_that_is_gone_is_told_in_a_line(
    asked: Callable[..., tuple[int, str]], tmp_path: Path
) -> None:
    """What is due follows from the house's files; where they are gone, one line says so."""
    with open_ledger(tmp_path / "board.db") as ledger:
        ledger.db.execute("UPDATE house SET folder = ?", (str(tmp_path / "gone"),))
    code, says = asked("watch", "list")
    assert (code, says.count("\n"), "gone: found no folder" in says) == (2, 1, True)
