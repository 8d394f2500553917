"""Damaged bytes: python -m tests.faults.bytes [--flips N] [--bytes] [--seed S]

Takes the demo's ledger and damages each of its pages in every way: some of its bytes flipped (or each byte of
the file, one at a time), the page zeroed, another page in its place, the file cut off there. Each damaged
ledger is read and written by commands, then looked at by the doctor, and mended from a backup. It must be
found by one of them, or be harmless, which is to hold the same content; no command may fall with a traceback;
mended, it must be sound and hold every entry as it was.
"""

import argparse
import contextlib
import io
import shutil
import sqlite3
import sys
import tempfile
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import closing
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from random import Random

from board import cli
from board.errors import BoardError
from board.ledger.backups.catalogue import folder_of
from board.ledger.backups.copy import copy_into
from board.ledger.backups.named import Kind
from board.ledger.doctor.examine import examine
from board.ledger.doctor.mend import mend
from board.ledger.pieces import pieces

COMMANDS = (
    ("show", "opening", "--at", "2026-12-19T05:40"),
    ("show", "record", "--at", "2026-12-19T05:40"),
    ("record", "--from", "2026-12-18", "--to", "2026-12-19", "--json"),
    ("reading", "North", "225 F", "--who", "Ada"),
)
NOW = datetime(2026, 12, 19, 12, 0, tzinfo=UTC)

Damage = Callable[[bytearray], None]


@dataclass(frozen=True, slots=True)
class Damaged:
    """One way to damage a file: its kind, where, and what does it."""

    kind: str
    where: int
    act: Damage


def damages(size: int, page: int, flips: int, luck: Random) -> Iterator[Damaged]:
    """Every kind of damage at every page of a file."""
    count = size // page
    for number in range(count):
        start, end = number * page, (number + 1) * page
        for _ in range(flips):
            yield flip(luck.randrange(start, end), luck.randrange(1, 256))
        yield Damaged("page zeroed", number, _put(start, bytes(page)))
        other = luck.choice([n for n in range(count) if n != number])
        yield Damaged("page of another place", number, _copied(start, other * page, page))
        yield Damaged("file cut off", number, _cut(start + luck.choice((0, page // 2))))


def flip(at: int, bits: int) -> Damaged:
    """Some bits of one byte turned round."""

    def act(content: bytearray) -> None:
        content[at] ^= bits

    return Damaged("byte flipped", at, act)


def _put(start: int, page: bytes) -> Damage:
    def act(content: bytearray) -> None:
        content[start : start + len(page)] = page

    return act


def _copied(start: int, other: int, page: int) -> Damage:
    def act(content: bytearray) -> None:
        content[start : start + page] = content[other : other + page]

    return act


def _cut(at: int) -> Damage:
    def act(content: bytearray) -> None:
        del content[at:]

    return act


class Trial:
    """A sound ledger with its backup, and what becomes of copies of it that are damaged."""

    def __init__(self, sound: Path, folder: Path, commands: tuple[tuple[str, ...], ...]) -> None:
        self.content = sound.read_bytes()
        self.path = folder / sound.name
        self.commands = commands
        shutil.copy(sound, self.path)
        self.dump = dump(self.path)
        self.record = record(self.path)
        self.backup = copy_into(folder, self.path, Kind.ASKED).path

    def outcome(self, damaged: Damaged) -> str:
        """What was found of the damage, and by whom; what must not be is in capitals."""
        content = bytearray(self.content)
        damaged.act(content)
        self._lay(bytes(content))
        told = [self._told(command) for command in self.commands]
        if "FELL" in told:
            return "A COMMAND FELL"
        self._lay(bytes(content))
        try:
            return self._looked_after("told" in told)
        except Exception as error:  # whatever the doctor lets through is what is looked for
            print(f"  the doctor fell: {type(error).__name__} {error}", file=sys.stderr)
            return "THE DOCTOR FELL"

    def _looked_after(self, told: bool) -> str:
        """What the doctor says of a damaged ledger, and what is wrong once it is mended."""
        try:
            found = "found by the doctor" if not examine(self.path).sound else ""
        except BoardError:
            found = "found by opening"
        if not found:
            return "harmless" if dump(self.path) == self.dump else "MISSED"
        return self._mended() or ("found by opening" if told else found)

    def _lay(self, content: bytes) -> None:
        for name in self.path.parent.glob(f"{self.path.name}*"):
            shutil.rmtree(name) if name.is_dir() else name.unlink()
        self.path.write_bytes(content)
        self.path.chmod(0o600)

    def _told(self, command: tuple[str, ...]) -> str:
        """How a command ends: well, with its one line, or with what no person should see."""
        said = io.StringIO()
        try:
            with contextlib.redirect_stdout(io.StringIO()), contextlib.redirect_stderr(said):
                code = cli.run([*command, "--ledger", str(self.path)])
        except Exception as error:  # whatever a command lets through is what is looked for
            print(f"  {command[0]} fell: {type(error).__name__} {error}", file=sys.stderr)
            return "FELL"
        return "told" if code == cli.Exit.BAD_INPUT and said.getvalue().count("\n") == 1 else "went"

    def _mended(self) -> str:
        """What is wrong after mending from the backup; empty where nothing is."""
        folder = folder_of(self.path)
        folder.mkdir(mode=0o700)
        shutil.copy(self.backup, folder)
        try:
            done = mend(self.path, "Ada", NOW)
        except BoardError as error:
            print(f"  not mended: {error}", file=sys.stderr)
            return "NOT MENDED"
        if not done.after.sound:
            return "NOT SOUND AFTERWARDS"
        after = record(self.path)
        return "" if {seq: after.get(seq) for seq in self.record} == self.record else "ENTRIES CHANGED"


def dump(path: Path) -> list[str]:
    """All that a ledger holds."""
    with closing(sqlite3.connect(path)) as db:
        return list(db.iterdump())


def record(path: Path) -> dict[int, object]:
    """All entries with links and documents."""
    with closing(sqlite3.connect(path)) as db:
        return {piece.entry.seq: piece for piece in pieces(db)}


def demo(path: Path) -> Path:
    """The demo's ledger, as one file."""
    from board.commands.demo import HOUSE, demo_ledger  # noqa: PLC0415
    from board.house.files import read_house  # noqa: PLC0415
    from board.house.seeds import seed_house  # noqa: PLC0415

    folder = seed_house(HOUSE)
    ledger, _ = demo_ledger(path, read_house(folder), folder, None)
    ledger.close()
    return path


def main(arguments: list[str] | None = None) -> int:
    """Damage, look, mend, print a table; 1 where anything went unseen or fell."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--flips", type=int, default=2, help="bytes flipped in each page [2]")
    parser.add_argument("--bytes", action="store_true", help="flip each byte of the file besides; long")
    parser.add_argument("--seed", type=int, default=1)
    wanted = parser.parse_args(arguments)
    with tempfile.TemporaryDirectory() as made, tempfile.TemporaryDirectory() as folder:
        trial = Trial(demo(Path(made) / "board.db"), Path(folder), COMMANDS)
        page, size, luck = (
            int.from_bytes(trial.content[16:18], "big"),
            len(trial.content),
            Random(wanted.seed),
        )
        ways = list(damages(size, page, wanted.flips, luck))
        if wanted.bytes:
            ways += [flip(at, luck.randrange(1, 256)) for at in range(size)]
        return _print(trial, ways, f"{size // page} pages of {page} bytes, seed {wanted.seed}")


def _print(trial: Trial, ways: list[Damaged], about: str) -> int:
    counts: Counter[tuple[str, str]] = Counter()
    for way in ways:
        outcome = trial.outcome(way)
        counts[way.kind, outcome] += 1
        if outcome.isupper():
            print(f"{way.kind} at {way.where}: {outcome}", flush=True)
    print(about)
    for (kind, outcome), count in sorted(counts.items()):
        print(f"{kind:24}{outcome:24}{count:8}")
    return int(any(outcome.isupper() for _, outcome in counts))


if __name__ == "__main__":
    sys.exit(main())
