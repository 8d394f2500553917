"""Copies of backups in a folder off this machine, such as a stick or another machine's disk."""

import json
import os
import re
import shutil
from dataclasses import dataclass
from datetime import datetime, tzinfo
from pathlib import Path

from board.errors import LedgerError
from board.house.folder import is_folder
from board.house.put_file import put_file
from board.ledger.backups.catalogue import folder_of, thin
from board.ledger.backups.copy import put, sync, told, unfinished
from board.ledger.backups.named import Backup
from board.ledger.backups.sound import check_sound
from board.ledger.times import moment, stamp

NOTE = "copied.json"  # beside the local backups: the folder away may not be there when it is asked
_NOT_IN_NAMES = re.compile(r"[^\w-]+")


@dataclass(frozen=True, slots=True)
class Copied:
    """The last copy that was made off this machine: the folder, when, and the number of its last entry."""

    to: str
    at: datetime
    seq: int


def copy_away(
    backup: Backup, ledger: Path, to: Path, house_name: str, *, now: datetime, zone: tzinfo
) -> Path:
    """Copy a backup into a folder of this house's in `to`, prove it by opening it there, and note it.

    Args:
        backup: the one to copy.
        ledger: whose backup it is.
        to: a folder that is there: one that is made where a stick was taken out would be on this disk.
        house_name: names the folder in `to`; the ledger's file does where there is no house.
        now: the moment, by which older copies there go.
        zone: the house's, whose days those are.

    Raises:
        LedgerError: no such folder, no room, not writable, or the copy is not what was copied.
    """
    if not is_folder(to):
        raise LedgerError(f"there is no folder {to} for the copy: put in what it is on, or name another")
    folder = to / f"{_spelled(house_name) or ledger.stem}.backups"
    place = folder / backup.path.name
    with told(f"{backup.path.name} could not be copied into {folder}"):
        with unfinished(folder) as file:
            shutil.copyfile(backup.path, file)
            sync(file)
            _forget(file)
            if check_sound(file) != check_sound(backup.path):
                raise LedgerError(f"the copy in {folder} is not what was copied; take another disk")
            put(file, place)
        thin(folder, now, zone)
    _note(ledger, Copied(str(to), now, backup.seq))
    return place


def last_copied(ledger: Path) -> Copied | None:
    """The last copy made off this machine; None where there was none, or the note of it cannot be read."""
    try:
        told_there = json.loads((folder_of(ledger) / NOTE).read_text(encoding="utf-8"))
        return Copied(str(told_there["to"]), moment(told_there["at"]), int(told_there["seq"]))
    except (OSError, ValueError, KeyError, TypeError):
        return None


def is_same_disk(ledger: Path, to: Path) -> bool:
    """Whether a folder is on the disk the ledger is on, and would be lost with it."""
    try:
        return to.stat().st_dev == ledger.stat().st_dev
    except OSError:
        return False


def _note(ledger: Path, copied: Copied) -> None:
    says = {"to": copied.to, "at": stamp(copied.at), "seq": copied.seq}
    put_file(folder_of(ledger) / NOTE, json.dumps(says).encode())


def _spelled(name: str) -> str:
    """A house's name as a folder's: letters, digits and dashes."""
    return _NOT_IN_NAMES.sub("-", name.casefold()).strip("-_")[:60]


def _forget(file: Path) -> None:
    """Ask the system to read the file from its disk next time, and not from memory, where it can be asked."""
    if hasattr(os, "posix_fadvise"):
        opened = os.open(file, os.O_RDONLY)
        try:
            os.posix_fadvise(opened, 0, 0, os.POSIX_FADV_DONTNEED)
        finally:
            os.close(opened)
