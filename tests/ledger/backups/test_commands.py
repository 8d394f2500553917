"""`board backup` and `board restore`: what is said, what is asked, and how each ends."""

import io
import json
import shutil
import sqlite3
import sys
from contextlib import closing
from datetime import timedelta
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from board.cli import root, run
from board.ledger import read
from board.ledger.backups.catalogue import backups_in, folder_of
from board.ledger.backups.daily import keep_backed_up
from board.ledger.open import Ledger, create_ledger, open_ledger
from tests.ledger.by_hand import ZONE

from .test_copy import take


@pytest.fixture(autouse=True)
def _somebody(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Ada is at the keys, and no settings are but ours."""
    monkeypatch.setenv("BOARD_WHO", "Ada")
    monkeypatch.setenv("BOARD_SETTINGS", str(tmp_path / "settings.toml"))
    monkeypatch.delenv("BOARD_BACKUP_TO", raising=False)


def do(path: Path, *arguments: str, typed: str | None = None) -> Result:
    """Run a command on the ledger."""
    return CliRunner().invoke(root, [*arguments, "--ledger", str(path)], input=typed)


def fails(path: Path, capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    """The one line in which a command ends with 2."""
    assert run([*arguments, "--ledger", str(path)]) == 2
    said = capsys.readouterr().err.strip().splitlines()[-1]
    assert said.startswith("board: ")
    return said


def test_a_backup_is_made_listed_and_told_as_json(path: Path, planned: Ledger) -> None:
    """A sentence, a numbered list with the newest first, and a document that names file, entry and bytes."""
    take(planned, 3)
    made = do(path, "backup")
    assert made.exit_code == 0
    assert "up to entry 4" in made.output
    assert "opened and found whole" in made.output
    listed = do(path, "backup", "--list").output
    assert listed.startswith("  1  ")
    assert "asked for" in listed
    (told,) = json.loads(do(path, "backup", "--list", "--json").output)["backups"]
    assert (told["seq"], told["kind"], told["bytes"]) == (4, "asked", Path(told["file"]).stat().st_size)


def test_a_copy_that_fails_ends_with_1_and_the_backup_is_there(
    path: Path, planned: Ledger, capsys: pytest.CaptureFixture[str]
) -> None:
    """The bad news is for scripts too; nothing is lost for it."""
    assert run(["backup", "--to", str(path.with_name("nostick")), "--ledger", str(path)]) == 1
    assert "there is no folder" in capsys.readouterr().err
    assert len(backups_in(folder_of(path))) == 1
    path.with_name("stick").mkdir()
    copied = do(path, "backup", "--to", str(path.with_name("stick")))
    assert copied.exit_code == 0
    assert "on the ledger's own disk: it is lost with it" in copied.output
    assert "last copied at" in do(path, "backup", "--list").output


def test_a_folder_in_the_settings_gets_a_copy(path: Path, planned: Ledger, tmp_path: Path) -> None:
    """`backup_to` holds where neither flag nor environment says otherwise."""
    (tmp_path / "stick").mkdir()
    (tmp_path / "settings.toml").write_text(f"backup_to = '{tmp_path / 'stick'}'\n", encoding="utf-8")
    assert do(path, "backup").exit_code == 0
    assert len(backups_in(tmp_path / "stick" / "cinder-rye.backups")) == 1


def test_what_would_be_set_aside_is_said_before_anything_is_done(path: Path, planned: Ledger) -> None:
    """How many, by whom, the last in words; without a yes nothing is done."""
    do(path, "backup")
    take(planned, 7)
    asked = do(path, "restore")
    assert "Recorded since and set aside: 7 entries, by Ada (7)" in asked.output
    assert asked.output.count("reading") == 5
    assert str(asked.exception) == "nothing is restored without a yes; add --yes"
    assert read.data_version(planned)[1] == 8
    done = do(path, "restore", "--yes")
    assert done.exit_code == 0
    assert (
        "restored, and recorded as entry 2, 7 entries set aside; what stood there is kept in" in done.output
    )
    back = do(path, "restore", "1", "--yes")
    assert "7 entries of the backup that are not here come back." in back.output
    assert read.data_version(planned)[1] == 9


def test_a_zone_that_there_is_not_is_told(
    path: Path, planned: Ledger, capsys: pytest.CaptureFixture[str]
) -> None:
    """Where the house's row was damaged, in a backup or in the ledger, a line says so and nothing is done."""
    do(path, "backup")
    (made,) = backups_in(folder_of(path))
    for file in (made.path, path):
        with closing(sqlite3.connect(file)) as connection, connection:
            connection.execute("UPDATE house SET zone = 'Nowhere/Town'")
    told = "is of a zone “Nowhere/Town” that there is not; board doctor --mend mends what can be"
    assert told in fails(path, capsys, "restore", "2026-12-09", "--yes")
    assert told in keep_backed_up(path, None, made.at + timedelta(days=1)).problem


def test_a_backup_is_named_by_its_day_or_file(path: Path, planned: Ledger, tmp_path: Path) -> None:
    """The last of a day on the house's calendar; a file from anywhere, also where there is no ledger yet."""
    do(path, "backup")
    (made,) = backups_in(folder_of(path))
    day = made.at.astimezone(planned.zone).date()
    assert do(path, "restore", str(day), "--yes").exit_code == 0
    shutil.copyfile(made.path, tmp_path / "from the stick.db")
    new = tmp_path / "new.db"
    fresh = do(new, "restore", str(tmp_path / "from the stick.db"), "--yes")
    assert "nothing is lost" in fresh.output
    with open_ledger(new) as ledger:
        assert [entry.kind for entry in read.entries(ledger, since_seq=0)] == ["plan", "restored"]


def test_what_cannot_be_restored_is_one_line(
    path: Path,
    planned: Ledger,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """No backup, no such one, no such day, another house's, no file of a ledger, nobody who does it."""
    assert "there is no backup in" in fails(path, capsys, "restore", "--yes")
    do(path, "backup")
    assert "allowed a number from 1 to 1" in fails(path, capsys, "restore", "7", "--yes")
    assert "there is no backup of 2020-01-01" in fails(path, capsys, "restore", "2020-01-01", "--yes")
    other = tmp_path / "other.db"
    create_ledger(other, "Ash & Oak", ZONE, tmp_path).close()
    assert "of the house “Ash & Oak”" in fails(path, capsys, "restore", str(other), "--yes")
    (tmp_path / "text").write_text("no ledger", encoding="utf-8")
    assert "take another backup" in fails(path, capsys, "restore", str(tmp_path / "text"), "--yes")
    assert "say who does it" in fails(path, capsys, "restore", "1", "--yes", "--who", " ")
    assert "is a folder" in fails(tmp_path, capsys, "restore", "--yes")
    for nobody in (None, io.StringIO()):  # a closed input, and one that nobody can answer by
        monkeypatch.setattr(sys, "stdin", nobody)
        assert "without a yes" in fails(path, capsys, "restore", "1")


def test_a_damaged_ledger_is_restored_and_what_is_unknown_is_said(path: Path, planned: Ledger) -> None:
    """What a ledger that cannot be read holds beyond the backup cannot be told; it is kept as it is."""
    do(path, "backup")
    take(planned, 60)
    planned.close()
    content = bytearray(path.read_bytes())
    content[100:8192] = bytes(8092)
    path.write_bytes(content)
    done = do(path, "restore", "--yes")
    assert done.exit_code == 0
    assert "cannot be told; the file is kept as it is" in done.output
    (kept,) = folder_of(path).glob("*damaged.db")
    assert kept.read_bytes() == content
    assert do(path, "backup").exit_code == 0


def test_a_ledger_damaged_where_opening_does_not_meet_it_is_restored(path: Path, planned: Ledger) -> None:
    """Pages of its record are gone, though it opens: it is kept byte for byte with its log, and replaced."""
    do(path, "backup")
    take(planned, 60)
    content, log = bytearray(path.read_bytes()), path.with_name(f"{path.name}-wal").read_bytes()
    planned.close()
    content[8 * 4096 : 20 * 4096] = bytes(12 * 4096)
    path.write_bytes(content)
    path.with_name(f"{path.name}-wal").write_bytes(log[:5000])
    done = do(path, "restore", "--yes")
    assert done.exit_code == 0
    assert "cannot be told; the file is kept as it is" in done.output
    (kept,) = folder_of(path).glob("*damaged.db")
    assert kept.read_bytes() == content
    assert kept.with_name(f"{kept.name}-wal").read_bytes() == log[:5000]
    assert do(path, "doctor").exit_code == 0
