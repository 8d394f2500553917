"""Whatever a command prints, a terminal obeys none of it: people's texts, names of files, the environment."""

import io
import json
import os
import subprocess
import sys
import unicodedata
from datetime import UTC, datetime
from pathlib import Path
from shutil import copytree

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pypdf import PdfReader

from board.cli import run
from board.commands.outlet import harmless_outlets
from board.ledger import typed, write
from board.ledger.open import create_ledger
from board.ledger.state import WatchKind
from board.ledger.watching import Watched
from board.ledger.when import moment_or_now
from board.views.obeyed import escaped, harmless

from .conftest import AT

SEED = Path(__file__).parents[2] / "seeds" / "tallow_row"
# ECMA-48: colour, title (OSC), clipboard (OSC 52), link (OSC 8), device strings, their C1 forms, back space;
# Unicode Standard Annex 9: turned and isolated text; marks of no width
HOSTILE = (
    "\x1b[31mred\x1b[8m\x1b[2J\x1b]0;title\x07\x1b]52;c;cm0=\x07\x1b]8;;http://x\x1b\\y\x1bP+q\x1b\\\x1bc"
    "\x9b31m\x9d52;c;cm0=\x9c\x90q\x9c\x85\x08\x08\x7f\u202etxet\u2066\u2069\u200f\u200b\u200d\ufeff\u2028\u2029"
)
texts = st.text(st.characters(exclude_categories=())) | st.just(HOSTILE)


def obeyed(text: str) -> set[str]:
    """What of a text a terminal would obey, ends of lines aside."""
    return {c for c in text if c not in "\n\t" and unicodedata.category(c) in {"Cc", "Cf", "Cs", "Zl", "Zp"}}


@given(texts)
def test_nothing_obeyed_is_left_and_all_else_is(text: str) -> None:
    """Every letter stays in its order; of carriage returns only those before a line feed."""
    made = harmless(text)
    assert obeyed(made) <= {"\r"}
    assert "\r" not in made.replace("\r\n", "")
    assert [c for c in text if not obeyed(c)] == [c for c in made if c != "\r"]


@given(
    st.recursive(
        texts | st.none() | st.floats(allow_nan=False), lambda t: st.lists(t) | st.dictionaries(texts, t)
    )
)
def test_json_says_the_same_in_harmless_letters(document: object) -> None:
    """RFC 8259, section 7: an escape is the character; what is read back is what was written."""
    written = json.dumps(document, ensure_ascii=False, indent=1)
    made = escaped(written)
    assert not obeyed(made)
    assert json.loads(made) == json.loads(written)


def test_a_name_that_ends_in_a_control_hides_nothing() -> None:
    """What stands after it is shown, not taken for the rest of a sequence."""
    assert harmless("Ines\x1b[ 54 °C") == "Ines[ 54 °C"
    assert harmless("Ines\x9d 54 °C \x9c") == "Ines 54 °C "


def test_there_is_no_way_around(monkeypatch: pytest.MonkeyPatch) -> None:
    """Neither by bytes nor where the terminal has but ASCII, where click would take the bytes beneath."""
    import click  # noqa: PLC0415 - its cache of streams begins with these

    beneath = io.BytesIO()
    monkeypatch.setattr("sys.stdout", io.TextIOWrapper(beneath, "ascii", "replace"))
    with harmless_outlets(as_json=False):
        click.echo("a\x9b31mb")
        assert not hasattr(sys.stdout, "buffer")
    sys.stdout.flush()
    assert beneath.getvalue() == b"a31mb\n"


@pytest.fixture(scope="module")
def hostile(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A ledger of the demo's house as some other program might have left it: its texts are hostile."""
    path = tmp_path_factory.mktemp("hostile") / "board.db"
    with create_ledger(path, f"Tallow Row{HOSTILE}", "America/Chicago", SEED) as ledger:
        at = moment_or_now(AT, ledger.zone, datetime.now(UTC))
        said = {"who": f"ines{HOSTILE}", "at": at, "noted_at": at}
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(typed, "inert", str)
            patch.setattr(typed, "name", lambda text, *_: text)
            write.note(ledger, f"left open {HOSTILE}", f"north{HOSTILE}", **said)
            write.take_reading(ledger, 4.0, place=f"walk-in{HOSTILE}", **said)
            write.handover(ledger, HOSTILE, **said)
            cooling = Watched(WatchKind.COOLING, f"beans{HOSTILE}", place=HOSTILE)
            write.start_watch(ledger, cooling, **said)
        written = " ".join(row["data"] + row["who"] for row in ledger.rows("SELECT * FROM entries"))
        assert "\u202e" in written
    return path


DAY, LATER = AT[:10], f"{AT[:10]}T06:00"
SAYS = (
    *(("show", view, "--at", LATER) for view in ("opening", "tomorrow", "service", "batches", "record")),
    ("record", "--from", DAY),
    ("record", "--from", DAY, "--json"),
    ("list", "buy"),
    ("watch", "list", "--json"),
    ("mark", "on", HOSTILE, "--who", HOSTILE),
    ("reading", HOSTILE, "40 F", "--who", HOSTILE),
    ("reading", HOSTILE, HOSTILE, "--who", "ines"),
    ("show", HOSTILE),
    (HOSTILE,),
    ("show", "opening", f"--{HOSTILE}"),
    ("batch", HOSTILE),
    ("cook", HOSTILE),
    ("safe", f"/no/such/{HOSTILE}", "--food", "poultry"),
    ("house", "check", f"/no/such/{HOSTILE}"),
)


@pytest.mark.parametrize("words", SAYS, ids=lambda words: " ".join(words).replace(HOSTILE, "…"))
def test_no_output_of_a_command_is_obeyed(
    words: tuple[str, ...], hostile: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Pages, JSON and error lines, for a house, a ledger and arguments that are hostile."""
    monkeypatch.setenv("BOARD_LEDGER", str(hostile))
    run([*words])
    told = capsys.readouterr()
    assert not obeyed(told.out)
    assert not obeyed(told.err)
    assert told.out or told.err


def test_no_print_out_or_table_is_obeyed(hostile: Path, tmp_path: Path) -> None:
    """The words of a PDF are copied into a terminal, and a table is shown there."""
    page, table = tmp_path / "record.pdf", tmp_path / "record.csv"
    run(["record", "--from", DAY, "--ledger", str(hostile), "--pdf", str(page), "--csv", str(table)])
    words = "".join(one.extract_text() for one in PdfReader(page).pages)
    assert "beans" in words
    assert not obeyed(words)
    cells = table.read_text(encoding="utf-8-sig").replace("\r\n", "\n")
    assert "beans" in cells
    assert not obeyed(cells)


def test_what_is_wrong_in_a_house_is_told_harmlessly(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A name that holds a control is refused in a line that repeats it; a stray file is named."""
    folder = copytree(SEED, tmp_path / "house")
    (folder / f"odd{HOSTILE.replace('/', '')}.toml").write_text("a = 1\n", encoding="utf-8")
    run(["house", "check", str(folder)])
    told = capsys.readouterr()
    assert "odd" in told.out
    crew = folder / "crew.toml"
    name = json.dumps(f"Ines{HOSTILE}").replace("\x7f", "\\u007f")
    crew.write_text(f"[ines]\nname = {name}\n", encoding="utf-8")
    run(["house", "check", str(folder)])
    refused = capsys.readouterr()
    assert "crew.toml" in refused.err
    assert not obeyed(told.out + told.err + refused.out + refused.err)


@pytest.mark.parametrize("name", ["BOARD_WHO", "BOARD_LEDGER", "BOARD_SETTINGS", "TZ", "LANG"])
def test_no_environment_is_obeyed(name: str, tmp_path: Path) -> None:
    """What a shell was started with comes back harmless too, as bytes of a process of its own."""
    value = HOSTILE.encode("utf-8", "surrogateescape").replace(b"\0", b"")
    told = subprocess.run(
        [sys.executable, "-c", "from board.cli import main; main()", "reading", "north", "225 F"],
        env={**os.environ, "PYTHONPATH": str(SEED.parents[1]), name: os.fsdecode(value)},
        cwd=tmp_path,
        capture_output=True,
        check=False,
    )
    assert not obeyed((told.stdout + told.stderr).decode("utf-8"))
    assert b"Traceback" not in told.stderr
