"""Killed restores: python -m tests.faults.restore [--rounds N] [--seed S]

Each round restores a backup (over a ledger that is sound, over one that a hand writes to, and in place of one
with pages of noughts), kills that with -9 at a random moment, and looks that the old is there or the new,
whole, with what was set aside kept; then that the program goes on.
"""

import argparse
import shutil
import sys
import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, timedelta
from pathlib import Path
from random import Random
from time import monotonic

from board.ledger import read, write
from board.ledger.backups.catalogue import back_up, folder_of
from board.ledger.backups.named import Kind
from board.ledger.backups.restore import restore
from board.ledger.open import Ledger, open_ledger
from board.ledger.typed import Said
from tests.faults import after, check, hand
from tests.faults.table import Tally, print_table
from tests.ledger.by_hand import EVENING

LATER = EVENING + timedelta(hours=2)
SAID = Said("Ines", LATER, LATER)
PAGE, NOUGHTS = 4096, 12
KINDS = ("over a sound ledger", "over one that is written", "in place of a damaged one")
LONGEST = dict(zip(KINDS, (2.0, 5.0, 2.0), strict=True))  # of the time that a restore takes undisturbed
Entries = list[list[object]]


def main(arguments: list[str] | None = None) -> int:
    """Restore, kill, look, print a table; 1 where anything was neither old nor new."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rounds", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    wanted = parser.parse_args(arguments)
    tallies = {kind: Tally() for kind in KINDS}
    outcomes = {kind: {"old": 0, "new": 0} for kind in KINDS}
    with tempfile.TemporaryDirectory() as folder:
        seconds = made(Path(folder) / "kept")
        for number in range(wanted.rounds):
            for kind in KINDS:
                luck = Random(f"{wanted.seed}/{number}/{kind}")
                outcome, wrong = one_round(Path(folder), kind, luck.uniform(0, seconds * LONGEST[kind]))
                outcomes[kind][outcome] += 1
                tallies[kind].take({}, wrong)
    code = print_table("restores killed with -9", tallies)
    for kind, ends in outcomes.items():
        print(f"    {kind}: {ends['old']} ended as the old, {ends['new']} as the new")
    return code


def made(kept: Path) -> float:
    """A ledger with a backup and some entries beyond it, to begin with; how long a restore takes."""
    begun = kept.with_name("begun")
    begun.mkdir()
    path = begun / "board.db"
    after.found(path)
    back_up(path, Kind.ASKED, EVENING, UTC)
    _note(path, 60)  # so that the log has not all that is beyond the backup
    with open_ledger(path) as ledger:
        _notes(ledger, 12)
        shutil.copytree(begun, kept)  # as a killed board leaves it, with its log
    probe = kept.with_name("probe")
    shutil.copytree(kept, probe)
    began = monotonic()
    restore(probe / "board.db", _backup(probe / "board.db"), SAID)
    return monotonic() - began


def one_round(folder: Path, kind: str, seconds: float) -> tuple[str, list[str]]:
    """Restore and kill after so long: which of the two is there, and what is wrong with it."""
    path = folder / "round" / "board.db"
    begun = lay(folder, path, kind)
    jobs: list[Callable[[], None]] = [lambda: void(restore(path, begun.backup, SAID))]
    if kind == KINDS[1]:
        jobs.append(lambda: _write_on(path))
    hand.cut_off([hand.start(job) for job in jobs], seconds)
    return left(path, kind, begun)


@dataclass(frozen=True, slots=True)
class Begun:
    """What there was before a restore: the backup, the entries of the ledger and of it, the file's bytes."""

    backup: Path
    old: Entries
    kept: Entries
    content: bytes


def lay(folder: Path, path: Path, kind: str) -> Begun:
    """Put what `made` kept in a folder of its own, damaged where the kind wants it."""
    shutil.rmtree(path.parent, ignore_errors=True)
    shutil.copytree(folder / "kept", path.parent)
    old, backup = check.rows_of(folder / "begun" / "board.db"), _backup(path)  # looking would use up the log
    if kind == KINDS[2]:
        _damage(path)
    return Begun(backup, old, check.rows_of(backup), path.read_bytes())


def left(path: Path, kind: str, begun: Begun) -> tuple[str, list[str]]:
    """Which of the two is there after a fault, and what is wrong with it."""
    if kind == KINDS[2] and path.read_bytes() == begun.content and not _is_waiting(path):
        return "old", []
    try:
        found = _opened(path)
    except Exception as error:
        return "new", [f"it cannot be read any more: {error!r}"]
    wrong = after.goes_on(path) + _alone(path)
    kept = begun.kept
    if len(found) > len(kept) and found[len(kept)][4] == "restored":
        same = found[: len(kept)] == kept
        return "new", wrong + _aside(path, begun, kind) + ["the backup's entries differ"] * (not same)
    return "old", wrong + ["the old entries differ"] * (found[: len(begun.old)] != begun.old)


def _note(path: Path, count: int) -> None:
    with open_ledger(path) as ledger:
        _notes(ledger, count)


def _notes(ledger: Ledger, count: int) -> None:
    for number in range(count):
        write.note(ledger, f"beyond {number}" * 20, who="Ada", at=EVENING, noted_at=EVENING)


def void(_: object) -> None:
    """What a restore tells is nothing to a process that ends."""


def _alone(path: Path) -> list[str]:
    """What is wrong with the ledger by itself; the backups beside it are of two ways that its record went."""
    place = path.with_name("alone") / path.name
    place.parent.mkdir(exist_ok=True)
    shutil.copyfile(path, place)
    return check.complaints(place, {})


def _opened(path: Path) -> Entries:
    """The entries as the program finds them, which ends what was begun."""
    with open_ledger(path) as ledger:
        read.data_version(ledger)
    return check.rows_of(path)


def _aside(path: Path, begun: Begun, kind: str) -> list[str]:
    """What stood there is kept: its entries, or the damaged file as it was."""
    files = [file for file in folder_of(path).iterdir() if "restore" in file.name or "damaged" in file.name]
    if kind == KINDS[2]:
        is_kept = any(file.read_bytes() == begun.content for file in files)
        return [] if is_kept else ["the damaged file is not kept"]
    kept = [check.rows_of(file) for file in files if file.suffix == ".db"]
    is_kept = any(rows[: len(begun.old)] == begun.old for rows in kept)
    return [] if is_kept else ["what stood there is not kept"]


def _is_waiting(path: Path) -> bool:
    return path.with_name(f"{path.name}.restoring").exists()


def _write_on(path: Path) -> None:
    with open_ledger(path) as ledger:
        for _ in range(10_000):
            write.note(ledger, "meanwhile", who="Max", at=LATER, noted_at=LATER)


def _backup(path: Path) -> Path:
    return next(file for file in folder_of(path).iterdir() if file.name.endswith("-asked.db"))


def _damage(path: Path) -> None:
    """Pages of noughts that opening does not meet at once, beside a log that is whole."""
    with path.open("r+b") as file:
        file.seek(8 * PAGE)
        file.write(bytes(NOUGHTS * PAGE))


if __name__ == "__main__":
    sys.exit(main())
