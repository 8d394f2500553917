"""Where the houses that come with the program are: inside an installed copy, or beside a checkout."""

from pathlib import Path

from board.errors import BoardError

_PACKAGE = Path(__file__).resolve().parent.parent
_SHELVES = (_PACKAGE / "seeds", _PACKAGE.parent / "seeds")


def seed_house(name: str) -> Path:
    """The folder of a house that comes with the program; raises BoardError naming those there are."""
    for shelf in _SHELVES:
        if (shelf / name / "house.toml").is_file():
            return shelf / name
    found = sorted({f.parent.name for shelf in _SHELVES for f in shelf.glob("*/house.toml")})
    raise BoardError(f"no house {name!r} comes with the program; there are {', '.join(found) or 'none'}")
