"""The line of a house file that a fault is about, so that an editor can go there."""

import re
from collections.abc import Iterator
from pathlib import Path

from board.errors import BoardError
from board.house.text_file import read_text

_FAULT = re.compile(r"(?P<file>[\w-]+\.toml), (?P<where>[\w.\[\]-]+): (?P<says>.*)", re.DOTALL)
_HEADER = re.compile(r"\s*(\[\[?)\s*([\w.\" -]+?)\s*\]\]?")
_KEY = re.compile(r"\s*\"?([\w-]+(?:\.[\w-]+)*)\"?\s*=")


def with_line(folder: Path, fault: str) -> str:
    """A fault that names file and key, with the line beside them; as it is where that cannot be told."""
    found = _FAULT.fullmatch(fault)
    if not found:
        return fault
    try:
        text = read_text(folder / found["file"])
    except BoardError:
        return fault
    line = _line_of(text, found["where"])
    return f"{found['file']}, line {line}, {found['where']}: {found['says']}" if line else fault


def _line_of(text: str, where: str) -> int:
    """The line of the longest beginning of a path that the file has; 0 where it has none."""
    wanted = where.split(".")
    best, depth = 0, 0
    for number, path in _paths(text):
        if len(path) > depth and path == wanted[: len(path)]:
            best, depth = number, len(path)
    return best


def _paths(text: str) -> Iterator[tuple[int, list[str]]]:
    """Each header and key of the file with its line; tables in a list are counted as faults tell them."""
    above: list[str] = []
    counted: dict[str, int] = {}
    for number, line in enumerate(text.splitlines(), 1):
        if header := _HEADER.match(line):
            name = header[2].replace('"', "")
            above = name.split(".")
            if header[1] == "[[":
                counted[name] = counted.get(name, 0) + 1
                above[-1] = f"{above[-1]}[{counted[name]}]"
            yield number, above
        elif key := _KEY.match(line):
            yield number, [*above, *key[1].split(".")]
