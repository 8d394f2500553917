"""The proofs that nothing is lost, a few rounds of each; each is a command of its own that does thousands."""

import subprocess
import sys
from pathlib import Path

import pytest

from tests.faults.layer import why_skipped

REPOSITORY = Path(__file__).parents[2]
on_a_failing_disk = pytest.mark.skipif(bool(why_skipped()), reason=str(why_skipped()))


def proof(name: str, *options: str) -> subprocess.CompletedProcess[str]:
    """What a proof prints."""
    command = [sys.executable, "-m", f"tests.faults.{name}", *options]
    return subprocess.run(command, cwd=REPOSITORY, capture_output=True, text=True, timeout=900, check=False)


def assert_nothing_lost(name: str, *options: str) -> None:
    """A proof finds nothing wrong."""
    done = proof(name, *options)
    assert done.returncode == 0, done.stdout + done.stderr
    assert done.stderr == ""


def test_programs_killed() -> None:
    """What boards, a command and who makes a new ledger were told is there after kill -9."""
    assert_nothing_lost("kill", "--rounds", "6")


@on_a_failing_disk
def test_power_cuts() -> None:
    """What was acknowledged is there after the power goes, though the disk loses what was not synced."""
    assert_nothing_lost("power", "--rounds", "6")


@on_a_failing_disk
@pytest.mark.parametrize("synchronous", ["NORMAL", "OFF"])
def test_the_disk_does_lose_what_was_not_synced(synchronous: str) -> None:
    """With less syncing than the program asks for, the same proof finds losses: it can fail."""
    done = proof("power", "--rounds", "6", "--synchronous", synchronous)
    assert done.returncode == 1, done.stderr
    assert "lost of hand" in done.stdout or "the ledger is gone" in done.stdout


@on_a_failing_disk
def test_disks_that_fail() -> None:
    """A refused operation of the disk ends in a line to act on, a sound ledger and a board that goes on."""
    assert_nothing_lost("disk", "--work", "day", "--every", "311")


@on_a_failing_disk
def test_a_restore_on_a_disk_that_fails() -> None:
    """A refused operation leaves all of the old or all of the new, as it was told."""
    assert_nothing_lost("disk", "--work", "restore", "--only", "one on", "--every", "607")


@on_a_failing_disk
def test_old_ledgers_opened_under_faults() -> None:
    """Killed, two at once, the power gone: as it was, or migrated with a backup, and migrated in the end."""
    assert_nothing_lost("migrate", "--rounds", "2", "--only", "killed", "once", "power")


@on_a_failing_disk
def test_an_old_ledger_opened_on_a_disk_that_fails() -> None:
    """A refused operation ends in a line to act on; the next opening ends migrated."""
    assert_nothing_lost("migrate", "--only", "refused", "--every", "149", "--ledger", "07 in its log")


@on_a_failing_disk
def test_migrating_with_less_syncing_is_found_out() -> None:
    """With no syncs of SQLite's own, the same proof finds what is lost: it can fail."""
    done = proof("migrate", "--rounds", "12", "--only", "power", "--ledger", "01", "--synchronous", "OFF")
    assert done.returncode == 1, done.stderr
    assert "it is neither as it was nor migrated" in done.stdout


@on_a_failing_disk
def test_what_a_disk_loses_that_lies_is_found() -> None:
    """All but a record that ends sooner and is whole up to there."""
    assert_nothing_lost("lying", "--rounds", "8")


@on_a_failing_disk
def test_power_cuts_while_a_backup_is_put_back() -> None:
    """What is left is the ledger as it was or the backup, whole."""
    assert_nothing_lost("restoring", "--rounds", "6")


@on_a_failing_disk
def test_commands_on_a_disk_that_fails() -> None:
    """A command ends with 0 where it recorded something, with 2 and a line where it did not."""
    assert_nothing_lost("commands", "--only", "mark", "--every", "41")


@on_a_failing_disk
def test_a_board_on_a_disk_that_fails() -> None:
    """A note typed on the screen is recorded once, or still stands in its dialog."""
    assert_nothing_lost("screen", "--rounds", "2")


def test_many_hands() -> None:
    """Eight people, a feed and two boards at once: counts equal, order kept."""
    assert_nothing_lost("hands", "--minutes", "0.02")
