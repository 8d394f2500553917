"""A commented house to start from, written into a new folder; nothing that is there is ever overwritten."""

import os
from collections.abc import Mapping
from contextlib import suppress
from importlib.resources import files
from pathlib import Path

from board.errors import HouseFileError

STARTER_FILES = (
    "house.toml",
    "pits.toml",
    "holds.toml",
    "cuts.toml",
    "items.toml",
    "recipes.toml",
    "crew.toml",
    "services.toml",
    "orders.csv",
    "sales.csv",
)


def write_starter(folder: Path) -> list[Path]:
    """Write the starter house and return its files; raises HouseFileError rather than overwrite anything."""
    source = files("board.house").joinpath("data", "starter")
    return write_house(folder, {name: source.joinpath(name).read_text("utf-8") for name in STARTER_FILES})


def write_house(folder: Path, texts: Mapping[str, str]) -> list[Path]:
    """Write a new house's files, all or none, and return them.

    Raises HouseFileError, rather than overwrite anything, and when the folder cannot be written.
    """
    written: list[Path] = []
    was_there = True
    try:
        is_free(folder, texts)
        was_there = folder.exists()
        folder.mkdir(parents=True, exist_ok=True)
        for name, text in texts.items():
            with (folder / name).open("x", encoding="utf-8", newline="\n") as out:
                written.append(folder / name)
                out.write(text)
                out.flush()
                os.fsync(out.fileno())
    except OSError as error:
        for path in written:
            path.unlink(missing_ok=True)
        if not was_there:
            with suppress(OSError):
                folder.rmdir()
        raise HouseFileError(f"{folder}: cannot be written ({error.strerror})") from None
    return written


def is_free(folder: Path, names: Mapping[str, str] | tuple[str, ...] = STARTER_FILES) -> None:
    """Raise HouseFileError where a folder is none, or has one of the files already."""
    if folder.exists() and not folder.is_dir():
        raise HouseFileError(f"{folder}: found a file, allowed the name of a new folder")
    if there := [name for name in names if (folder / name).exists()]:
        raise HouseFileError(f"{folder}: found {there[0]} already, allowed a folder without house files")
