"""`board restore`: a backup put in the ledger's place, once it was said what that would lose."""

import sys
from collections import Counter
from datetime import UTC, date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from board.commands.open_board import house_of
from board.commands.options import ledger_option
from board.commands.outlet import say_done
from board.commands.people import called, crew_of, id_named, who_named
from board.errors import BoardError, LedgerError
from board.house.wording import count, in_list
from board.ledger.times import zone_called
from board.ledger.where import ledger_path

if TYPE_CHECKING:
    from board.ledger.backups.named import Backup
    from board.ledger.backups.restore import Restored
    from board.ledger.open import Ledger
    from board.ledger.state import Entry

TOLD = 5  # of the entries that would be lost, so many are told in words


@click.command("restore")
@click.argument("which", required=False)
@click.option("--yes", is_flag=True, help="Do it without asking.")
@click.option("--who", envvar="BOARD_WHO", help="Who does it [BOARD_WHO].")
@ledger_option
def command(*, which: str | None, yes: bool, who: str | None, ledger: Path | None) -> int:
    """Put a backup in the ledger's place: WHICH is its number in board backup --list, a day, or a file.

    Without WHICH it is the newest, or another that goes on from it, where a wrong clock dated them.

    Says first what would be lost. What stands there now is kept as a backup; boards that are open go on
    with what is restored.
    """
    from board.ledger.backups.restore import check_restorable, restore  # noqa: PLC0415 - help needs no ledger
    from board.ledger.doctor.naming import crew_in  # noqa: PLC0415
    from board.ledger.typed import Said, name  # noqa: PLC0415

    who, path = name(who_named(who, "does it"), "who does it (--who)"), ledger_path(ledger)
    if path.is_dir():
        raise LedgerError(f"{path} is a folder, not a ledger file; name the file in it")
    backup = _meant(which, path)
    up_to = check_restorable(backup).seq
    _check_same_house(backup, path)
    who = id_named(crew_in(backup, path), who)
    click.echo(f"{backup}: whole, {f'up to entry {up_to}' if up_to else 'no entry yet'}", err=True)
    click.echo("\n".join(_lost(path, backup)), err=True)
    if not yes and not _agreed():
        return 130
    now = datetime.now(UTC)
    say_done(_done(restore(path, backup, Said(who, now, now))))
    return 0


def _agreed() -> bool:
    """Ask on a terminal; elsewhere nobody could answer."""
    if sys.stdin is None or not sys.stdin.isatty():
        raise LedgerError("nothing is restored without a yes; add --yes")
    return click.confirm("Restore it?", err=True)


def _meant(which: str | None, ledger: Path) -> Path:
    """The backup that was named: a file, a day, or its number in the list; else the newest."""
    from board.ledger.backups.catalogue import backups_in, folder_of  # noqa: PLC0415
    from board.ledger.backups.parting import furthest  # noqa: PLC0415

    if which is not None and Path(which).is_file():
        return Path(which)
    found = backups_in(folder_of(ledger))
    if not found:
        raise LedgerError(f"there is no backup in {folder_of(ledger)}; name a file, as on a stick")
    if which is None:
        return furthest(found).path
    if which.isdecimal() and 1 <= int(which) <= len(found):
        return found[int(which) - 1].path
    try:
        return _of_day(found, date.fromisoformat(which)).path
    except ValueError:
        allowed = f"a number from 1 to {len(found)} (board backup --list), a day as 2026-12-09, or a file"
        raise LedgerError(f"which backup: found '{which}', allowed {allowed}") from None


def _of_day(found: "list[Backup]", day: date) -> "Backup":
    """The last backup of a day on the house's calendar."""
    from board.ledger.backups.sound import house_of as whose  # noqa: PLC0415

    zone = zone_called(whose(found[0].path)[1], found[0].path)
    days_of = {one: one.at.astimezone(zone).date() for one in found}
    of_day = [one for one in found if days_of[one] == day]
    if not of_day:
        days = in_list([str(day) for day in sorted(set(days_of.values()))[-TOLD:]])
        raise LedgerError(f"there is no backup of {day}; the last days with one: {days}")
    return of_day[0]


def _check_same_house(backup: Path, ledger: Path) -> None:
    """The backup of another house's ledger is refused: its loads and people are not this one's."""
    from board.ledger.backups.sound import house_of as whose  # noqa: PLC0415

    theirs = whose(backup)[0]
    try:
        ours = whose(ledger)[0] if ledger.exists() else theirs
    except BoardError:  # not readable: whose it is cannot be told
        return
    if ours != theirs:
        raise LedgerError(
            f"{backup} is of the house “{theirs}”, {ledger} of “{ours}”; name another backup, "
            "or a new file with --ledger"
        )


def _lost(path: Path, backup: Path) -> list[str]:
    """What is recorded here and not in the backup: how much, by whom, when, the last in words."""
    from board.ledger import read  # noqa: PLC0415
    from board.ledger.backups.parting import parting  # noqa: PLC0415
    from board.ledger.backups.sound import check_sound  # noqa: PLC0415
    from board.ledger.open import open_ledger  # noqa: PLC0415

    if not path.exists():
        return [f"There is no ledger {path} yet: nothing is lost."]
    found = parting(path, backup)
    try:
        check_sound(path)  # what is damaged is not opened, which would write to it
        opened = open_ledger(path)
    except BoardError as error:
        return [f"{error}.", "What it holds beyond the backup cannot be told; the file is kept as it is."]
    with opened as ledger:
        lost = read.entries(ledger, since_seq=found.common) if found else []
        said = _of_lost(ledger, lost) if lost else ["Nothing that is recorded here is missing there."]
    if found and found.back:
        said.append(f"{count(found.back, 'entry')} of the backup that are not here come back.")
    return said


def _of_lost(ledger: "Ledger", lost: "list[Entry]") -> list[str]:
    people = crew_of(ledger)
    counted = Counter(called(people, entry.who) for entry in lost)
    by = in_list([f"{who} ({n})" for who, n in counted.most_common()])
    first, last = min(entry.noted_at for entry in lost), max(entry.noted_at for entry in lost)
    span = " to ".join(dict.fromkeys(ledger.date_and_clock(at) for at in (first, last)))
    head = f"Recorded since and set aside: {count(len(lost), 'entry')}, by {by}, {span}."
    shown = lost[-TOLD:]
    return [head, "The last of them:" if len(lost) > TOLD else "They are:", *_in_words(ledger, shown)]


def _in_words(ledger: "Ledger", shown: "list[Entry]") -> list[str]:
    """The entries as the Record view says them; by their kind where the house's files cannot be read."""
    from board.views.gather import gather  # noqa: PLC0415
    from board.views.happened import sentence  # noqa: PLC0415

    try:
        facts = gather(ledger, house_of(ledger), max(entry.noted_at for entry in shown))
    except BoardError:
        facts = None
    says = {entry.seq: (sentence(facts, entry) if facts else "") or entry.kind for entry in shown}
    people = crew_of(ledger)
    return [f"  {ledger.clock(e.at)}  {says[e.seq]}, {called(people, e.who)}" for e in shown]


def _done(done: "Restored") -> str:
    kept = f"; what stood there is kept in {done.kept}" if done.kept else ""
    lost = f", {count(done.parting.lost, 'entry')} set aside" if done.parting and done.parting.lost else ""
    return f"restored, and recorded as entry {done.entry.seq}{lost}{kept}"
