"""Folders from outside: one that somebody names, and whether a file of a house's folder was changed."""

import os
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path

NEEDED = ("house.toml", "pits.toml", "items.toml", "services.toml")
OPTIONAL = (
    "holds.toml",
    "cuts.toml",
    "recipes.toml",
    "containers.toml",
    "crew.toml",
    "probes.toml",
    "orders.csv",
    "sales.csv",
    "cooks.csv",
)
WATCHED = (".toml", ".csv")
Look = tuple[int, int, int]
"""When a file was written, how long it is, and which file it is: a rename-save has another one."""


def folder_meant(typed: str) -> Path:
    """The folder that somebody names, ~ being their own; as typed where nobody knows whose it is."""
    folder = Path(typed.strip())
    try:
        return folder.expanduser()
    except RuntimeError:
        return folder


def is_folder(path: Path) -> bool:
    """Whether there is such a folder; one of a name that no disk takes, or that nobody may see, is none."""
    try:
        return path.is_dir()
    except OSError:
        return False


def whole(path: Path) -> Path:
    """A path from the root on; as it was named where the folder that one stands in was taken away."""
    try:
        return path.resolve()
    except (OSError, RuntimeError):
        return path


def is_text(path: Path) -> bool:
    """Whether a path's name can be written down as text; a system may have names of bytes that are none."""
    try:
        return bool(str(path).encode())
    except UnicodeError:
        return False


def found_again(folder: Path, beside: Path) -> Path:
    """A house's folder; the one beside its ledger, where it is not where it was and lies there now."""
    is_moved = not is_folder(folder) and (beside / NEEDED[0]).is_file()
    return beside if is_moved else folder


def look_of(folder: Path) -> Mapping[str, Look]:
    """How each file of the house's kinds looks; nothing where the folder is gone."""
    found: dict[str, Look] = {}
    try:
        with os.scandir(folder) as entries:
            for entry in entries:
                if entry.name.endswith(WATCHED) and not entry.name.startswith("."):
                    with suppress(OSError):  # a link to nowhere, or going as it is looked at
                        there = Path(entry.path).stat()  # of what a link leads to, which is what is read
                        found[entry.name] = (there.st_mtime_ns, there.st_size, there.st_ino)
    except OSError:
        return found  # gone, or going as it is looked at: the next look tells
    return found


def changed_files(before: Mapping[str, Look], after: Mapping[str, Look]) -> list[str]:
    """The names of files that came, went or were written between two looks."""
    return sorted(name for name in {*before, *after} if before.get(name) != after.get(name))


class Watched:
    """A folder of a house that is looked at now and then, and read once two looks are alike."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._known = self._last = look_of(folder)

    def changed(self) -> list[str]:
        """The files that changed and have settled since; each change is told once."""
        now, before = look_of(self.folder), self._last
        self._last = now
        if now != before:
            return []
        known, self._known = self._known, now
        return changed_files(known, now)
