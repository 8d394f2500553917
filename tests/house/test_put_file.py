"""A file that is exported is there entire or as it was before, whatever lies in its place."""

import os
import sqlite3
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from board.errors import BoardError
from board.house import put_file as putting
from board.house.put_file import put_file, put_files

OLD = b"as it was"


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A file that was written before."""
    found = tmp_path / "labels.pdf"
    found.write_bytes(OLD)
    return found


def test_a_file_is_put_in_place_for_its_owner_alone(path):
    """Whole, with nothing left beside it."""
    put_file(path, b"new")
    assert path.read_bytes() == b"new"
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert [each.name for each in path.parent.iterdir()] == ["labels.pdf"]


@pytest.mark.parametrize("fails", ["fsync", "fdopen"])
def test_a_disk_that_fails_leaves_what_was_there(path, monkeypatch, fails):
    """All files as they were, where the last of them cannot be written; nothing half is left."""

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(putting.os, fails, full)
    with pytest.raises(BoardError, match=r"labels\.pdf cannot be written: No space left on device; name"):
        put_files([(path, b"new")])
    assert path.read_bytes() == OLD
    assert [each.name for each in path.parent.iterdir()] == ["labels.pdf"]


def test_two_files_are_written_both_or_neither(path, tmp_path):
    """The first stays as it was where the second has no folder."""
    with pytest.raises(BoardError, match=r"gone/record\.csv cannot be written: No such file or directory"):
        put_files([(path, b"new"), (tmp_path / "gone" / "record.csv", b"new")])
    assert path.read_bytes() == OLD


def test_two_files_of_one_name_are_told(path):
    """Neither is written, since one of them would be gone."""
    with pytest.raises(BoardError, match="is named twice"):
        put_files([(path, b"pages"), (path.parent / "." / path.name, b"rows")])
    assert path.read_bytes() == OLD


@pytest.mark.parametrize(
    ("name", "what"),
    [
        ("board.db", "it is a ledger"),
        ("board.db-wal", "it is a ledger's log"),
        ("sales.csv", "it is a file of the house"),
        ("house.toml", "it is a file of the house"),
    ],
)
def test_what_is_nowhere_else_is_not_written_over(tmp_path, name, what):
    """A ledger, the log of one, and the files of a house, which no backup holds."""
    for there, holds in (("board.db", b"SQLite format 3\x00"), ("house.toml", b""), (name, None)):
        if holds is not None or not (tmp_path / there).exists():
            (tmp_path / there).write_bytes(holds or OLD)
    before = (tmp_path / name).read_bytes()
    with pytest.raises(BoardError, match=what):
        put_file(tmp_path / name, b"new")
    assert (tmp_path / name).read_bytes() == before


def test_a_link_stays_one(path, tmp_path):
    """What it leads to is written anew."""
    link = tmp_path / "link.pdf"
    link.symlink_to(path)
    put_file(link, b"new")
    assert link.is_symlink()
    assert path.read_bytes() == b"new"


@pytest.mark.parametrize(
    ("make", "told"),
    [
        (lambda place: place.mkdir(), "it is no file"),
        (os.mkfifo, "it is no file"),
        (lambda place: place.symlink_to(place), "Symlink loop"),
    ],
)
def test_what_is_no_file_is_left_alone(tmp_path, make, told):
    """A folder, a pipe nobody reads and a link to itself are told in a line and stay."""
    place = tmp_path / "out"
    make(place)
    before = place.lstat()
    with pytest.raises(BoardError, match=told):
        put_file(place, b"new")
    assert place.lstat() == before


def test_no_export_is_written_over_a_ledger(tmp_path):
    """Two names mixed up on a command line lose no record; the database is made by Python's sqlite3."""
    ledger = tmp_path / "board.db"
    with sqlite3.connect(ledger) as db:
        db.execute("CREATE TABLE entries (seq)")
    before = ledger.read_bytes()
    with pytest.raises(BoardError, match=r"board\.db is not written over: it is a ledger"):
        put_file(ledger, b"new")
    assert ledger.read_bytes() == before


def test_a_device_without_room_is_told():
    """/dev/full refuses every byte; see full(4) of the Linux manual."""
    with pytest.raises(BoardError, match="/dev/full cannot be written: No space left on device"):
        put_file(Path("/dev/full"), b"new")


def test_a_shells_pipe_is_written_to():
    """As `--out /dev/stdout | lp` or `--out >(lp)`."""
    line = (
        "from pathlib import Path; from board.house.put_file import put_file;"
        "put_file(Path('/dev/stdout'), b'new')"
    )
    assert subprocess.run([sys.executable, "-c", line], capture_output=True, check=True).stdout == b"new"
