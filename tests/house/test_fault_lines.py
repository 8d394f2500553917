"""A fault in a house file is told with its line."""

import pytest

from board.errors import HouseFileError
from board.house.fault_lines import with_line
from board.house.files import read_house
from board.house.starter import write_starter


@pytest.mark.parametrize(
    ("file", "old", "new"),
    [
        ("pits.toml", 'area = "20 sq ft"', 'area = "20"'),
        ("house.toml", 'mass = "lb"', 'mass = "stone"'),
        ("cuts.toml", 'wrap = { in = "paper", at = "160 F" }', 'wrap = { in = "paper", at = 160 }'),
        ("cuts.toml", 'gap = ["3 h", "6 h"]', 'gap = ["6 h", "3 h"]'),
        ("items.toml", "price = 13.0", "prize = 13.0"),
        ("crew.toml", 'at = "06:00"', 'at = "06:70"'),
        ("services.toml", 'at = "11:00"', 'at = "eleven"'),
    ],
)
def test_a_fault_is_told_with_the_line_that_was_typed(file, old, new, tmp_path):
    """Whatever key of the starter house is spoilt, the line named is the one that has it."""
    folder = tmp_path / "house"
    write_starter(folder)
    text = (folder / file).read_text()
    assert old in text
    spoilt = text.replace(old, new)
    (folder / file).write_text(spoilt)
    with pytest.raises(HouseFileError) as refused:
        read_house(folder)
    line = 1 + [new in each for each in spoilt.splitlines()].index(True)
    assert with_line(folder, str(refused.value)).startswith(f"{file}, line {line}, ")


def test_what_names_no_key_stays_as_it_is(tmp_path):
    """A fault of a whole file, or of a file that is gone, is told as it was."""
    for fault in ("items.toml: found no such file in x, allowed y", "pits.toml, north.kind: found 1", "what"):
        assert with_line(tmp_path, fault) == fault
