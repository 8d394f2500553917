"""Keys a house changes: checked whole before any is used, then shown wherever keys are told."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from textual.widgets import Static

from board.app import keys
from board.app.keymap import Keymap, clashes, keymap_of, read_keys
from board.app.pressing import Pressing
from board.app.settings import Settings
from board.cli import run
from board.ledger import read
from board.ledger.open import create_ledger
from tests.app.boards import board, night_ledger
from tests.app.pictures import screen_text, settled

IDS = sorted({act.id for acts in keys.SCOPES.values() for act in acts})
POSSIBLE = ["f5", "f6", "f9", "g", "p", "t", "u", "ctrl+g", "ctrl+t", "left", "enter", "space", "?", "Q", ";"]


def test_our_own_keys_clash_nowhere() -> None:
    """Without changes no two acts of a view share a key."""
    assert clashes({}) == []


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"undoo": "f9"}, "no act is called undoo: did you mean undo"),
        ({"undo": "ctrl+m"}, "undo: Ctrl+M is Enter on most terminals"),
        ({"undo": "ctrl+i"}, "undo: Ctrl+I is Tab on most terminals"),
        ({"undo": "hyper+x"}, "undo: Hyper+X is no key that can be counted on"),
        ({"undo": "f²"}, "undo: F² is no key that can be counted on"),
        ({"undo": "f13"}, "undo: F13 is no key that can be counted on"),
        ({"undo": "f" + "9" * 5_000}, "undo: "),
        ({"undo": ""}, "undo needs a key"),
        ({"undo": 7}, "undo needs a key"),
        ({"undo": "g"}, "g would be both plan and undo in Tomorrow"),
        ({"undo": "t"}, "t would be both temperature and undo everywhere"),
        ({"undo": "down"}, "↓ would be both undo and down everywhere"),
        ({"undo": "f1"}, "undo: F1 always shows help"),
        ({"plan": "ctrl+q"}, "plan: Ctrl+Q always leaves the board"),
    ],
)
def test_a_fault_is_told_in_a_line_and_nothing_is_changed(changes: dict[str, object], says: str) -> None:
    """Which change is wrong, how, and what is allowed; the board then has its own keys."""
    keymap = Keymap.of({**changes, "note": "f8"})
    assert any(fault.startswith(says) for fault in keymap.faults)
    assert keymap.changes == {}


@given(st.dictionaries(st.sampled_from(IDS), st.sampled_from(POSSIBLE), max_size=6))
def test_no_map_that_is_taken_hides_an_act(wanted: dict[str, object]) -> None:
    """In every view each key has one act, help keeps F1, and every act has a key; or nothing is changed."""
    keymap = Keymap.of(wanted)
    for name, acts in keys.SCOPES.items():
        common = [group for shared, group in keys.SCOPES.items() if shared in keys.SHARED and shared != name]
        pressed = [key for act in keymap.acts(acts, *common) for key in act.keys.split(",")]
        assert sorted(pressed) == sorted(set(pressed))
        assert all(pressed)
    assert "f1" in next(act for act in keymap.acts(keys.EVERYWHERE) if act.id == "help").keys.split(",")


async def test_a_changed_key_works_and_is_shown_everywhere(tmp_path: Path) -> None:
    """The house's key does the act and ours no more; foot, help and what is said name the new one."""
    (tmp_path / "keys.toml").write_text(
        '[keys]\nundo = "f9"\nopening-likely = "enter, +"\n', encoding="utf-8"
    )
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(140, 40)) as pilot:
            await settled(app, pilot)
            assert "F9 undo" in screen_text(app)
            await pilot.press("plus")
            await settled(app, pilot)
            assert "F9 takes it back" in screen_text(app)
            marked = read.data_version(ledger)
            await pilot.press("u")
            assert read.data_version(ledger) == marked
            await pilot.press("f9")
            await settled(app, pilot)
            assert read.entries(ledger)[-1].kind == "undo"
            await pilot.press("question_mark", *"take back")
            assert "F9" in screen_text(app)


async def test_a_faulty_file_is_told_and_the_board_opens(tmp_path: Path) -> None:
    """The board opens with its own keys and says what is wrong with the house's."""
    (tmp_path / "keys.toml").write_text('[keys]\nundo = "t"\n', encoding="utf-8")
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(140, 40)) as pilot:
            await settled(app, pilot)
            assert "t would be both temperature and undo" in screen_text(app)
            await pilot.press("t")
            assert "Temperature" in screen_text(app)


def test_a_machine_s_key_goes_before_the_house_s(tmp_path: Path) -> None:
    """What this machine's settings say of an act holds over what the house's file says."""
    (tmp_path / "keys.toml").write_text('[keys]\nundo = "f9"\nnote = "f8"\n', encoding="utf-8")
    keymap = keymap_of(tmp_path, Settings(keys={"undo": "f7"}))
    assert (keymap.key("undo"), keymap.key("note")) == ("F7", "F8")


@pytest.mark.parametrize("text", ["[keys", "keys = 3\n", "[other]\n", "\udcff"])
def test_a_damaged_file_is_a_fault_and_no_crash(text: str, tmp_path: Path) -> None:
    """Whatever is in the file, it is told in a line."""
    (tmp_path / "keys.toml").write_bytes(text.encode("utf-8", "surrogateescape"))
    _, faults = read_keys(tmp_path)
    assert len(faults) == 1
    assert "keys.toml" in faults[0]


def test_board_keys_lists_acts_and_clashes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """`board keys` names every act, marks what was changed, and ends with 2 where something is wrong."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("BOARD_SETTINGS", str(tmp_path / "settings.toml"))
    (tmp_path / "keys.toml").write_text('[keys]\nundo = "f9"\n', encoding="utf-8")
    assert run(["keys"]) == 0
    listed = capsys.readouterr().out
    assert all(id in listed for id in IDS)
    assert "F9" in listed
    assert "(changed)" in listed
    (tmp_path / "keys.toml").write_text('[keys]\nundo = "t"\n', encoding="utf-8")
    assert run(["keys"]) == 2
    assert "t would be both temperature and undo everywhere" in capsys.readouterr().err


async def test_a_new_ledger_says_once_where_help_is(tmp_path: Path) -> None:
    """Before anything was recorded the line above the keys says which key explains the view."""
    with create_ledger(tmp_path / "board.db", "New", "America/Denver", tmp_path) as ledger:
        app = board(ledger)
        async with app.run_test(size=(100, 30)) as pilot:
            await settled(app, pilot)
            assert "if you are new here, ? explains this view" in screen_text(app)


async def test_what_a_press_arrives_as_is_shown_with_whether_an_act_may_have_it() -> None:
    """`board keys --press` names each key, and says of one that terminals swallow why not."""
    app = Pressing()
    async with app.run_test(size=(60, 10)) as pilot:
        await pilot.press("ctrl+g", "ctrl+h", "[")
        await pilot.pause()
        told = str(app.query_one(Static).content).splitlines()
    assert told[1].startswith("left_square_bracket  may be given")
    assert told[2].startswith("ctrl+h  is Backspace")
    assert told[3].startswith("ctrl+g  may be given")
