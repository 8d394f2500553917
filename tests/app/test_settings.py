"""Settings of a machine: where they are, what goes before what, faults, and their screen."""

import os
import stat
from dataclasses import fields
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
import tomlkit
from hypothesis import given
from hypothesis import strategies as st

from board.app.app import BoardApp
from board.app.settings import Settings
from board.app.settings_file import KNOWN, read_settings, settings_path, write_setting
from board.app.settled import Settled, settle
from board.cli import run
from board.errors import BoardError
from tests.app.boards import board, night_ledger
from tests.app.pictures import screen_text, settled


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """The machine's settings file, not there yet."""
    return tmp_path / "settings" / "settings.toml"


def written(file: Path, text: str) -> Path:
    """The file with a text in it."""
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text(text, encoding="utf-8")
    return file


@pytest.mark.parametrize(
    ("environment", "platform", "path"),
    [
        ({"HOME": "/h"}, "linux", "/h/.config/board/settings.toml"),
        ({"HOME": "/h", "XDG_CONFIG_HOME": "/c"}, "linux", "/c/board/settings.toml"),
        ({"HOME": "/h", "XDG_CONFIG_HOME": "c"}, "linux", "/h/.config/board/settings.toml"),
        ({"HOME": "/h", "APPDATA": "/a"}, "win32", "/a/board/settings.toml"),
        ({"HOME": "/h", "BOARD_SETTINGS": "/x/mine.toml"}, "linux", "/x/mine.toml"),
    ],
)
def test_settings_are_where_the_machine_keeps_such_things(environment, platform, path):
    """XDG_CONFIG_HOME where it is absolute (XDG Base Directory Specification 0.8), APPDATA on Windows."""
    assert settings_path(environment, platform) == Path(path)


def test_a_flag_goes_before_the_environment_before_the_file_before_ours(file):
    """Each layer takes over where the one before it says nothing."""
    environment = {"BOARD_SETTINGS": str(file)}
    assert settle({}, environment).settings == Settings()
    written(file, 'theme = "light"\nbell = false\nmotion = false\n')
    assert settle({}, environment).settings == Settings(theme="ash", bell=False, motion=False)
    environment |= {"BOARD_THEME": "terminal", "BOARD_BELL": "on"}
    assert settle({}, environment).settings == Settings(theme="plain", bell=True, motion=False)
    found = settle({"theme": "ember", "motion": True, "ascii": None}, environment)
    assert found.settings == Settings()
    assert (found.source["theme"], found.source["bell"]) == ("a flag", "the environment")


@pytest.mark.parametrize(
    ("environment", "settings"),
    [
        ({"LANG": "en_GB.UTF-8"}, Settings()),
        ({"LANG": "en_GB.ISO-8859-1"}, Settings(ascii=True)),
        ({"LC_ALL": "C", "LANG": "en_GB.UTF-8"}, Settings(ascii=True)),
        ({"TERM": "linux", "LANG": "en_GB.UTF-8"}, Settings(ascii=True, theme="plain")),
        ({"TERM": "xterm-256color"}, Settings()),
        ({"NO_COLOR": "1"}, Settings(theme="plain")),
        ({"NO_COLOR": "1", "BOARD_THEME": "dark"}, Settings()),
        ({"BOARD_ASCII": "1", "BOARD_MOTION": "no"}, Settings(ascii=True, motion=False)),
    ],
)
def test_what_suits_the_terminal_is_taken_where_nobody_says(environment, settings, file):
    """A terminal of few glyphs and colours gets few, and NO_COLOR its own colours."""
    assert settle({}, environment | {"BOARD_SETTINGS": str(file)}).settings == settings


def test_each_fault_is_one_line_and_the_rest_holds(file):
    """File, key, found and allowed; what is right in the same file is taken."""
    text = 'theme = "purple"\nascii = 3\nmotoin = false\nbell = false\n[keys]\nplan = 4\nundo = "z"\n'
    found = settle({}, {"BOARD_SETTINGS": str(written(file, text)), "BOARD_MOTION": "perhaps"})
    assert found.settings == Settings(bell=False, keys={"undo": "z"})
    assert found.faults == (
        "settings.toml, theme: found 'purple', allowed one of dark, light, terminal",
        "settings.toml, ascii: found 3, allowed true or false",
        "settings.toml, keys.plan: found 4, allowed a text on one line",
        "settings.toml, motoin: found an unknown key, "
        "known here: theme, ascii, motion, bell, who, backup_to, keys",
        "BOARD_MOTION in the environment: found 'perhaps', allowed yes or no",
    )


@pytest.mark.parametrize("content", [b"theme = ", b"\xff\xfe", b'theme = "light'])
async def test_a_file_that_cannot_be_read_never_stops_the_board(content, file, tmp_path):
    """The board opens with ours and says what is wrong."""
    file.parent.mkdir()
    file.write_bytes(content)
    with night_ledger(tmp_path / "board.db") as ledger:
        app = BoardApp(board(ledger).session, settled=settle({}, {"BOARD_SETTINGS": str(file)}))
        async with app.run_test(size=(80, 24)) as pilot:
            await settled(app, pilot)
            assert "settings.toml" in screen_text(app)
            assert app.settings == Settings()


def test_writing_keeps_comments_and_what_is_not_ours(file):
    """One setting is changed; the file's own words, its keys and its other tables stay."""
    written(file, '# ours\ntheme = "dark"  # for the night\n\n[keys]\nplan = "P"\n')
    write_setting(file, "theme", "ash")
    write_setting(file, "bell", False)
    assert (
        file.read_text() == '# ours\ntheme = "light"  # for the night\nbell = false\n\n[keys]\nplan = "P"\n'
    )
    assert read_settings(file).values == {"theme": "ash", "bell": False, "keys": {"plan": "P"}}


def test_a_settings_file_is_its_owners_alone(file):
    """The file and the folder made for it can be read by nobody else, and nothing is left beside it."""
    write_setting(file, "bell", False)
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    assert stat.S_IMODE(file.parent.stat().st_mode) == 0o700
    assert list(file.parent.iterdir()) == [file]


def test_a_file_that_cannot_be_written_is_told_in_a_line(file):
    """A folder in the file's place is bad luck, not a crash, and is left alone."""
    file.mkdir(parents=True)
    with pytest.raises(BoardError, match=r"settings\.toml: cannot be"):
        write_setting(file, "bell", False)


@pytest.mark.parametrize("size", [(80, 24), (120, 36), (200, 60)])
async def test_settings_are_changed_shown_and_kept_at_once(size, file, tmp_path):
    """F4, Enter on the theme: the board is light, the file says so, and where it lies is told."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=size) as pilot:
            await settled(app, pilot)
            await pilot.press("f4", "enter")
            await settled(app, pilot)
            assert app.theme == "ash"
            assert read_settings(file).values["theme"] == "ash"
            text = screen_text(app)
            for said in ("light", "house.toml", "America/", "United States"):
                assert said in text, said
            await pilot.press("tab", "end")
            assert "board.db" in screen_text(app)
            await pilot.press("tab", "down", "enter", "down", "space", "down", "enter", "escape")
            assert app.settings == Settings(theme="ash", ascii=True, motion=False, bell=False)
            assert set(read_settings(file).values) == {"theme", "ascii", "motion", "bell", "keys"}


async def test_who_is_usually_here_may_be_kept(file, tmp_path):
    """The person picked is at the keys now, and next time."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(100, 30)) as pilot:
            await settled(app, pilot)
            await pilot.press("f4", *["down"] * 4, "enter", *"ines", "enter")
            await settled(app, pilot)
            assert app.session.who == "ines"
    assert settle({}, {"BOARD_SETTINGS": str(file)}).settings.who == "ines"


async def test_a_setting_that_cannot_be_kept_holds_all_the_same(file, tmp_path):
    """What is asked for is shown, and that it is not kept is told."""
    file.parent.write_text("in the way")
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(100, 30)) as pilot:
            await settled(app, pilot)
            await pilot.press("f4", "enter", "escape")
            await settled(app, pilot)
            assert app.theme == "ash"
            assert "not kept" in screen_text(app)


async def test_what_goes_before_the_file_is_told(file, tmp_path):
    """A setting from the environment is changed and kept, and why it will not hold next time is said."""
    environment = {"BOARD_SETTINGS": str(file), "BOARD_THEME": "dark"}
    with night_ledger(tmp_path / "board.db") as ledger:
        found: Settled = settle({}, environment)
        app = BoardApp(board(ledger).session, settled=found)
        async with app.run_test(size=(100, 30)) as pilot:
            await settled(app, pilot)
            await pilot.press("f4")
            assert "from the environment" in screen_text(app)
            await pilot.press("enter", "escape")
            await settled(app, pilot)
            assert "the environment goes before it" in screen_text(app)


def test_flags_are_the_same_before_and_after_demo(capsys):
    """`board --bell demo` and `board demo --bell` are both known, and a wrong one is one line."""
    assert run(["--no-bell", "demo", "--theme", "light"]) == 0
    assert run(["demo", "--theme", "purple"]) == 2
    assert "dark" in capsys.readouterr().err
    assert os.environ.get("BOARD_THEME") is None


def test_the_example_of_the_page_on_settings_is_read(file):
    """What docs/settings.md shows is a settings file without a fault, and its table has every setting."""
    page = (Path(__file__).parents[2] / "docs" / "settings.md").read_text(encoding="utf-8")
    found = read_settings(written(file, page.split("```toml\n")[1].split("```")[0]))
    assert found.faults == ()
    assert found.values == {"theme": "ash", "bell": False, "who": "ann", "keys": {"undo": "z"}}
    assert all(f"| `{each.name}` |" in page for each in fields(Settings))


VALUES = st.one_of(
    st.booleans(), st.integers(), st.text(max_size=8), st.sampled_from(["dark", "light", "terminal"])
)


@given(st.dictionaries(st.sampled_from([*KNOWN, "other"]), VALUES))
def test_any_settings_file_gives_settings_that_hold(told):
    """Whatever a file says, each value is one of those allowed, and each other is told in one line."""
    with TemporaryDirectory() as place:
        path = Path(place) / "settings.toml"
        path.write_text(tomlkit.dumps(told), encoding="utf-8")
        found = settle({}, {"BOARD_SETTINGS": str(path)})
    assert found.settings.theme in ("ember", "ash", "plain")
    assert all(isinstance(getattr(found.settings, name), bool) for name in ("ascii", "motion", "bell"))
    assert isinstance(found.settings.who, str)
    assert all("\n" not in fault for fault in found.faults)
    assert len(found.faults) + len([key for key, name in found.source.items() if name == "the file"]) >= len(
        told
    )


@given(st.binary(max_size=60))
def test_no_bytes_stop_the_board(raw):
    """Anything at all in the file's place is read or told."""
    with TemporaryDirectory() as place:
        path = Path(place) / "settings.toml"
        path.write_bytes(raw)
        found = read_settings(path)
    assert all("\n" not in fault for fault in found.faults)
