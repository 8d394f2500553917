"""What a power cut leaves of a folder: what was synced, and any part of what was not.

Bytes: of each 512-byte sector that was written and not synced since, some version lands, the old one or the
one after any of those writes; beyond the old end of a file a sector that did not land holds zeros or junk.
What a failed sync was to write counts as clean: the next sync does not write it, unless its page is written
again (so does Linux; from memory: Rebello et al., "Can Applications Recover from fsync Failures?", 2020).
Names: made, moved and removed in order, each on disk once its folder is synced; of the rest some first ones.
SQLite's own crash tests do the like inside SQLite (https://www.sqlite.org/testing.html, "Crash Testing").
"""

import os
import shutil
from collections import defaultdict
from contextlib import suppress
from dataclasses import dataclass, field, replace
from pathlib import Path
from random import Random

from tests.faults.layer import BYTES, SYNCS, Done, Kind, Layer

SECTOR, PAGE = 512, 4096


@dataclass(slots=True)
class Page:
    """What of a page is not on disk: which writes, and whether the next sync would write it."""

    waiting: list[int] = field(default_factory=list)
    dirty: bool = False


def cut(layer: Layer, luck: Random, *, torn: bool, lies: int = 0) -> None:
    """Leave in the layer's folder what the disk has; of what was not synced nothing, or a part if `torn`.

    So many of the last syncs were `lies`: the disk said that it had written, and had not.
    """
    done = _believed(layer.operations(), lies)
    paths = _paths(layer)
    by_file = defaultdict(list)
    for one in done:
        if one.kind in BYTES or one.kind in SYNCS:
            by_file[one.ino].append(one)
    for ino, operations in by_file.items():
        if ino in paths and paths[ino].is_file():
            _cut_bytes(paths[ino], operations, luck if torn else None)
    _cut_names(layer, done, luck if torn else None)
    _cut_shared_memory(layer, luck if torn else None)
    layer.settle()


def _believed(done: list[Done], lies: int) -> list[Done]:
    """The operations as the disk did them: a lie leaves behind what a failed sync does."""
    syncs = [number for number, one in enumerate(done) if one.kind is Kind.SYNC]
    lied = set(syncs[len(syncs) - min(lies, len(syncs)) :])
    return [replace(one, kind=Kind.FAILED_SYNC) if n in lied else one for n, one in enumerate(done)]


def _paths(layer: Layer) -> dict[int, Path]:
    """Where each file is now, by its number; one whose name is gone is in limbo."""
    found = {}
    for folder in (layer.limbo, layer.folder):
        for path in (folder, *folder.rglob("*")):
            found[path.lstat().st_ino] = path
    return found


def _unsynced(operations: list[Done]) -> tuple[dict[int, list[int]], list[int]]:
    """Which operations each page waits for, and the sizes the file may have, the oldest first."""
    pages: dict[int, Page] = defaultdict(Page)
    sizes: list[int] = []
    for number, one in enumerate(operations):
        if one.kind in BYTES:
            sizes.append(one.size)
            for page in range(one.offset // PAGE, (one.offset + max(one.length, 1) - 1) // PAGE + 1):
                pages[page].waiting.append(number)
                pages[page].dirty = True
            continue
        for state in pages.values():
            if one.kind is Kind.SYNC and state.dirty:
                state.waiting.clear()
            state.dirty = False
        if one.kind is Kind.SYNC:
            sizes.clear()
    return {page: state.waiting for page, state in pages.items() if state.waiting}, sizes


def _cut_bytes(path: Path, operations: list[Done], luck: Random | None) -> None:
    waiting, sizes = _unsynced(operations)
    if not waiting and not sizes:
        return
    content = bytearray(path.read_bytes())
    size = luck.choice([*sizes, len(content)]) if luck else (sizes or [len(content)])[0]
    content.extend(bytes(max(0, max([size, *(one.size for one in operations)]) - len(content))))
    for page, numbers in waiting.items():
        for sector in range(page * PAGE, (page + 1) * PAGE, SECTOR):
            touching = [n for n in numbers if _touches(operations[n], sector)]
            landed = luck.choice((0, len(touching), luck.randint(0, len(touching)))) if luck else 0
            for n in reversed(touching[landed:]):
                _put_back(content, operations[n], sector, luck)
    with path.open("r+b") as file:  # the same file, since names are put right by it
        file.truncate(0)
        file.write(content[:size])


def _touches(one: Done, sector: int) -> bool:
    return one.offset < sector + SECTOR and one.offset + one.length > sector


def _put_back(content: bytearray, one: Done, sector: int, luck: Random | None) -> None:
    """The bytes of one sector as they were before one write."""
    start = max(one.offset, sector)
    end = min(one.offset + one.length, sector + SECTOR, len(content))
    old = one.data[start - one.offset : max(end - one.offset, 0)]
    missing = max(0, end - start - len(old))
    junk = luck.randbytes(missing) if luck and luck.random() < 0.5 else bytes(missing)
    content[start:end] = old + junk


def _cut_names(layer: Layer, done: list[Done], luck: Random | None) -> None:
    """Undo the last of the names that no sync of their folder has put on disk."""
    waiting: dict[int, list[int]] = defaultdict(list)
    for number, one in enumerate(done):
        if one.kind is Kind.SYNC:
            waiting.pop(one.ino, None)
        elif one.kind not in BYTES and one.kind is not Kind.FAILED_SYNC:
            waiting[one.ino].append(number)
    undone: list[int] = []
    for numbers in waiting.values():
        undone += numbers[luck.randint(0, len(numbers)) if luck else 0 :]
    for number in sorted(undone, reverse=True):
        with suppress(FileNotFoundError):  # the power went before it was done
            _undo_name(layer, done[number])


def _undo_name(layer: Layer, one: Done) -> None:
    match one.kind:
        case Kind.CREATE | Kind.MKDIR:
            shutil.move(one.first, layer.limbo / f"undone-{len(os.listdir(layer.limbo))}")  # noqa: PTH208
        case Kind.LINK:
            Path(one.second).unlink()
        case Kind.RMDIR:
            Path(one.first).mkdir(exist_ok=True)
        case Kind.UNLINK:
            if not Path(one.first).exists():
                Path(one.first).hardlink_to(one.second)
        case Kind.RENAME:
            Path(one.second).rename(one.first)
            if one.data:
                Path(one.second).hardlink_to(os.fsdecode(one.data))


def _cut_shared_memory(layer: Layer, luck: Random | None) -> None:
    """What SQLite keeps in shared memory is gone, or is junk."""
    for path in layer.folder.rglob("*-shm"):
        if luck and luck.random() < 0.5:
            path.write_bytes(luck.randbytes(path.stat().st_size))
        else:
            path.unlink()
