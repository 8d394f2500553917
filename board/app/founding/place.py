"""Where a new house's files may go: an empty folder, or a new one; never where anything would be lost."""

import os
from pathlib import Path

from board.errors import HouseFileError
from board.house.folder import is_folder
from board.house.founding_files import slug
from board.house.starter import is_free


def usual_folder(here: Path, name: str) -> Path:
    """Where a new house goes: this folder where it is empty, else one of the house's name in it."""
    try:
        is_empty = not any(not each.name.startswith(".") for each in here.iterdir())
    except OSError:
        is_empty = False
    return here if is_empty else here / (slug(name) or "my-house")


def writable(folder: Path) -> Path:
    """A folder a new house can be written into; raises HouseFileError in one line for another."""
    try:
        is_free(folder)
        there = next((each for each in (folder, *folder.parents) if each.exists()), folder)
    except OSError as error:  # a name that no disk takes
        raise HouseFileError(f"{folder}: cannot be written ({error.strerror})") from None
    if not is_folder(there) or not os.access(there, os.W_OK | os.X_OK):
        raise HouseFileError(f"{folder}: {there} cannot be written, allowed a folder of your own")
    return folder
