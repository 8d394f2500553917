"""A commented house to start from, written into a new folder."""

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
    try:
        _is_free(folder)
        folder.mkdir(parents=True, exist_ok=True)
        for name in STARTER_FILES:
            text = source.joinpath(name).read_text(encoding="utf-8")
            with (folder / name).open("x", encoding="utf-8", newline="\n") as out:
                out.write(text)
    except OSError as error:
        raise HouseFileError(f"{folder}: cannot be written ({error.strerror})") from None
    return [folder / name for name in STARTER_FILES]


def _is_free(folder: Path) -> None:
    if folder.exists() and not folder.is_dir():
        raise HouseFileError(f"{folder}: found a file, allowed the name of a new folder")
    if there := [name for name in STARTER_FILES if (folder / name).exists()]:
        raise HouseFileError(f"{folder}: found {there[0]} already, allowed a folder without house files")
