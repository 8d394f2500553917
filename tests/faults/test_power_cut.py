"""The failing disk itself: what a cut leaves of plain files, where the answer is known."""

import os
import subprocess
import sys
from pathlib import Path
from random import Random

import pytest

from tests.faults.layer import Done, Kind, why_skipped
from tests.faults.power_cut import PAGE, SECTOR, _cut_bytes, _unsynced

pytestmark = pytest.mark.skipif(bool(why_skipped()), reason=str(why_skipped()))
REPOSITORY = Path(__file__).parents[2]


def write(offset: int, length: int, size: int, old: bytes = b"") -> Done:
    """A write as the log has it."""
    return Done(Kind.WRITE, 1, offset, length, size, old, "", "")


SYNC = Done(Kind.SYNC, 1, 0, 0, 0, b"", "", "")
FAILED = Done(Kind.FAILED_SYNC, 1, 0, 0, 0, b"", "", "")


def test_a_sync_keeps_what_was_written_before_it() -> None:
    """Only writes after the last sync wait."""
    assert _unsynced([write(0, 10, 0), SYNC, write(PAGE, 10, 10)]) == ({1: [2]}, [10])


def test_what_a_failed_sync_was_to_write_waits_until_its_page_is_written_again() -> None:
    """The next sync does not write it; after another write of the page it does."""
    assert _unsynced([write(0, 10, 0), FAILED, SYNC])[0] == {0: [0]}
    assert _unsynced([write(0, 10, 0), FAILED, write(20, 10, 10), SYNC])[0] == {}


def test_nothing_lands(tmp_path: Path) -> None:
    """Without luck the file is as it was at its last sync."""
    path = tmp_path / "file"
    path.write_bytes(b"new" + b"old" * 200 + b"more")
    _cut_bytes(path, [write(0, 3, 603, b"old"), write(603, 4, 603)], None)
    assert path.read_bytes() == b"old" * 201


def test_some_sectors_land(tmp_path: Path) -> None:
    """Each sector is whole, the old one or the new one, and over many cuts both are seen."""
    path, seen = tmp_path / "file", set()
    for number in range(200):
        path.write_bytes(b"n" * 2 * SECTOR)
        _cut_bytes(path, [write(0, 2 * SECTOR, 2 * SECTOR, b"o" * 2 * SECTOR)], Random(number))
        left = path.read_bytes()
        sectors = [left[:SECTOR], left[SECTOR:]]
        assert all(sector in (b"n" * SECTOR, b"o" * SECTOR) for sector in sectors)
        seen.add(tuple(sector[:1] for sector in sectors))
    assert len(seen) == 4


SCRIPT = """
import os, sys
from pathlib import Path
from random import Random
from tests.faults import hand, layer, power_cut
layer.run_under([__file__])
disk = layer.Layer()
disk.fresh()
here = disk.folder
(here / "kept").write_bytes(b"before")
disk.settle()

def job():
    layer.enter()
    for name, sync_file, sync_folder in (("lost", 0, 0), ("empty", 0, 1), ("whole", 1, 1)):
        with open(here / name, "wb") as out:
            out.write(b"content")
            out.flush()
            if sync_file:
                os.fsync(out.fileno())
        if sync_folder:
            folder = os.open(here, os.O_RDONLY)
            os.fsync(folder)
            os.close(folder)
    os.rename(here / "kept", here / "whole")

assert hand.cut_off([hand.start(job)], 10) == [0]
power_cut.cut(disk, Random(1), torn=False)
print({path.name: path.read_bytes() for path in sorted(here.iterdir())})
"""


def test_names_and_bytes_of_a_program(tmp_path: Path) -> None:
    """A name is on disk once its folder is synced, its bytes once the file is; a later rename is undone."""
    script = tmp_path / "script.py"
    script.write_text(SCRIPT)
    environment = {**os.environ, "PYTHONPATH": str(REPOSITORY)}
    done = subprocess.run(
        [sys.executable, script], capture_output=True, text=True, env=environment, check=False
    )
    left = "{'empty': b'', 'kept': b'before', 'lost': b'', 'whole': b'content'}"
    assert done.stdout.strip() == left, done.stderr
