"""How the command ends when the world is not as it should be: one line, the right code, never a traceback."""

import io
import os
import subprocess
import sys
from pathlib import Path

import pytest

from board import cli
from board.house.files import read_house
from board.ledger import read
from board.ledger.open import create_ledger, open_ledger

BATCH = ("batch", "bird-brine", "--for", "14 lb")


@pytest.fixture
def folder(tmp_path, capsys):
    """The starter house's folder."""
    assert cli.run(["house", "new", str(tmp_path / "house")]) == 0
    capsys.readouterr()
    return tmp_path / "house"


def started(*typed, **options):
    """The board in a process of its own."""
    line = "from board.cli import main; main()"
    return subprocess.Popen([sys.executable, "-c", line, *typed], stderr=subprocess.PIPE, **options)


def test_a_reader_who_has_seen_enough_is_no_failure(folder):
    """Output into a closed pipe, as of `| head -0`, ends quietly with 0."""
    reads, writes = os.pipe()
    os.close(reads)
    with started(*BATCH, str(folder), stdout=writes) as process:
        os.close(writes)
        assert (process.wait(), process.stderr.read()) == (0, b"")


@pytest.mark.parametrize("typed", [["house", "new"], ["house", "check"], ["show", "opening", "--ledger"]])
def test_a_name_too_long_for_the_disk_is_told(typed, capsys):
    """What the system refuses is bad input in one line."""
    assert cli.run([*typed, "x" * 300]) == cli.Exit.BAD_INPUT
    out, err = capsys.readouterr()
    assert (out, err.count("\n")) == ("", 1)
    assert err.startswith("board: ")


def test_what_the_system_refuses_ends_with_what_to_do(tmp_path, capsys):
    """A name that is too long says so, and what to do about it."""
    assert cli.run(["reading", "x", "3 C", "--who", "A", "--ledger", str(tmp_path / ("x" * 300))]) == 2
    assert capsys.readouterr().err.endswith(": File name too long; name it shorter\n")


def test_a_line_is_never_endless(capsys):
    """A name of any length is cut in the middle, so that the line still says what is allowed."""
    assert cli.run(["batch", "r" * 100_000, "--for", "1 kg"]) == cli.Exit.BAD_INPUT
    err = capsys.readouterr().err
    assert len(err) < 1100
    assert "its recipes are" in err


def test_a_group_without_a_word_says_what_is_missing(capsys):
    """`board house` alone is one line, not a page of help squeezed into one."""
    assert cli.run(["house"]) == cli.Exit.BAD_INPUT
    assert capsys.readouterr().err == "board: Missing command.\n"


def test_a_poor_character_set_ends_no_command(folder, monkeypatch):
    """A terminal without ° shows ? instead; JSON is UTF-8 on any terminal (RFC 8259, section 8.1)."""
    printed = {}
    for flag in ((), ("--json",)):
        stream = io.TextIOWrapper(io.BytesIO(), encoding="latin-1")
        monkeypatch.setattr(sys, "stdout", stream)
        (folder / "house.toml").write_text('name = "Ō → 炉"\nzone = "America/Chicago"\n', encoding="utf-8")
        cli.run(["house", "check", str(folder), *flag])
        stream.flush()
        printed[flag] = stream.buffer.getvalue()
    assert printed[()].startswith(b"? ? ?: 2 pits")
    assert '"house": "Ō → 炉"'.encode() in printed[("--json",)]


@pytest.mark.parametrize("stream", ["stdout", "stderr"])
def test_a_full_disk_behind_an_output_ends_with_2(folder, stream):
    """/dev/full takes nothing (full(4) of the Linux manual); no traceback where there is still somewhere."""
    typed = ["house", "check" if stream == "stdout" else "chekc", str(folder)]
    line = [sys.executable, "-c", "from board.cli import main; main()", *typed]
    with Path("/dev/full").open("wb") as full:
        ended = subprocess.run(
            line, **{"stdout": subprocess.PIPE, "stderr": subprocess.PIPE, stream: full}, check=False
        )
    assert ended.returncode == 2
    assert (ended.stderr or b"board: \n").count(b"\n") == 1


@pytest.mark.parametrize(
    ("stream", "says"), [("stdout", "(entry 1); it is done, but could not"), ("stderr", "")]
)
def test_what_is_recorded_and_cannot_be_told_ends_with_0(folder, tmp_path, stream, says):
    """A script that takes 2 for nothing recorded would record it again."""
    house = read_house(folder)
    create_ledger(tmp_path / "board.db", house.name, house.zone, folder).close()
    typed = ["reading", "walk-in", "3 C", "--who", "Ada", "--ledger", str(tmp_path / "board.db")]
    line = [sys.executable, "-c", "from board.cli import main; main()", *typed]
    with Path("/dev/full").open("wb") as full:
        outs = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE, stream: full}
        ended = subprocess.run(line, **outs, check=False)
    assert (ended.returncode, says in (ended.stderr or b"").decode()) == (0, True)
    with open_ledger(tmp_path / "board.db") as ledger:
        assert [entry.kind for entry in read.entries(ledger)] == ["reading"]


@pytest.mark.parametrize("as_json", [True, False])
def test_a_backup_that_cannot_be_told_is_copied_all_the_same(folder, tmp_path, as_json):
    """Where the output takes nothing, the copy is made, and a script has no reason to sign a second time."""
    house, stick = read_house(folder), tmp_path / "stick"
    stick.mkdir()
    create_ledger(tmp_path / "board.db", house.name, house.zone, folder).close()
    rest = ["--ledger", str(tmp_path / "board.db"), *["--json"] * as_json]
    told = []
    for typed in (["backup", "--to", str(stick)], ["record", "--from", "today", "--sign", "Ada"]):
        line = [sys.executable, "-c", "from board.cli import main; main()", *typed, *rest]
        with Path("/dev/full").open("wb") as full:
            ended = subprocess.run(line, stdout=full, stderr=subprocess.PIPE, check=False)
        assert ended.returncode == 0
        told.append("it is done, but could not be printed" in ended.stderr.decode())
    assert told == [True, True]
    assert len(list(stick.rglob("*-asked.db"))) == 1
    with open_ledger(tmp_path / "board.db") as ledger:
        assert [entry.kind for entry in read.entries(ledger)] == ["signature"]


def test_no_memory_left_is_told(monkeypatch, capsys):
    """In a line, whatever asked for it."""

    def greedy(*_, **__):
        raise MemoryError

    monkeypatch.setattr(cli.root, "main", greedy)
    assert cli.run(["plan"]) == cli.Exit.BAD_INPUT
    assert "no memory left" in capsys.readouterr().err


def test_a_folder_that_was_taken_away_is_told(tmp_path, monkeypatch, capsys):
    """Whoever stands in a folder that is deleted is told so."""
    (tmp_path / "gone").mkdir()
    monkeypatch.chdir(tmp_path / "gone")
    (tmp_path / "gone").rmdir()
    assert cli.run(["show", "opening"]) == cli.Exit.BAD_INPUT
    assert capsys.readouterr().err == "board: the folder you are in was taken away; go to another one\n"


def test_the_ledger_that_is_missing_is_named(tmp_path, monkeypatch, capsys):
    """A name mistyped in the environment is shown."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("BOARD_LEDGER", "typo.db")
    assert cli.run(["show", "opening"]) == cli.Exit.BAD_INPUT
    assert "there is no ledger typo.db here" in capsys.readouterr().err


def test_a_fault_of_the_program_is_told_apart_from_every_answer(monkeypatch, capsys):
    """Exit code 70 (sysexits(3), EX_SOFTWARE); the message of the fault is obeyed by no terminal."""

    def fails(_):
        raise KeyError("Ines \x1b]0;title\x07\x9b31m")

    monkeypatch.setattr(cli, "run", fails)
    with pytest.raises(SystemExit) as ended:
        cli.main(["keys"])
    assert ended.value.code == 70
    err = capsys.readouterr().err
    assert "KeyError" in err
    assert "Open it again with: board" in err
    assert not set(err) & {"\x1b", "\x07", "\x9b"}


def test_a_fault_that_nobody_can_be_told_still_has_its_code():
    """With standard error full, the exit code says it."""
    code = "from board import cli; cli.run = lambda _: 1 / 0; cli.main()"
    with Path("/dev/full").open("wb") as full:
        ended = subprocess.run([sys.executable, "-c", code], stderr=full, check=False)
    assert ended.returncode == 70
