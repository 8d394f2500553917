"""The page on house files tells every key, and its examples are a house."""

import re
from datetime import date
from pathlib import Path

import pytest

from board.house import files, tables
from board.house.check import stray_files
from board.house.folder import NEEDED, OPTIONAL
from board.house.read_cooks import COOK_COLUMNS
from board.house.read_orders import ORDER_COLUMNS, SALE_COLUMNS
from board.planning.doubts import every_doubt

PAGE = Path(__file__).parents[2] / "docs" / "house_files.md"
SECTIONS = dict(
    re.findall(r"^## (\S+\.(?:toml|csv))\n(.*?)(?=^## )", PAGE.read_text(encoding="utf-8"), re.M | re.S)
)
# where a table's name is the house's own: the keys below it are told without it
NAMED_BY_THE_HOUSE = {"house.toml": None, "crew.toml": 1}


def told(file):
    """The keys in the first column of the section's table."""
    cells = re.findall(r"^\| (`[^|]+) \|", SECTIONS[file], re.M)
    return {key for cell in cells for key in re.findall(r"`([^`]+)`", cell)}


@pytest.fixture(scope="module")
def example(tmp_path_factory):
    """The examples of the page as a folder, the house in it, and every table read on the way."""
    folder = tmp_path_factory.mktemp("example")
    for file, section in SECTIONS.items():
        (block,) = re.findall(r"```(?:toml|csv)\n(.*?)```", section, re.S)
        (folder / file).write_text(block, encoding="utf-8")
    seen = []
    first_init = tables.Table.__init__

    def noting(self, *args):
        first_init(self, *args)
        seen.append(self)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(tables.Table, "__init__", noting)
        house = files.read_house(folder)
    return folder, house, seen


def known(file, seen):
    """The keys the reader asked for in a file, dotted, without the names the house gives its tables."""
    found = set()
    at = NAMED_BY_THE_HOUSE.get(file, 0)
    for table in seen:
        path = [re.sub(r"\[\d+\]$", "", part) for part in table.path]
        if table.file != file or path[-1:] in (["promises"], ["fresh"]):
            continue
        if at is not None:
            if len(path) <= at and not (file == "crew.toml" and not path):
                continue
            path = path[:at] + path[at + 1 :]
        found |= {".".join([*path, key]) for key in table.asked}
    return found


@pytest.mark.parametrize("file", [f for f in SECTIONS if f.endswith(".toml")])
def test_every_key_the_reader_knows_is_on_the_page_and_no_other(file, example):
    """A key added to the reader fails here until the page tells it; a stale row fails as well."""
    asked = known(file, example[2])
    # hands of a step are told once, in their own section
    spelt = {key for key in asked if not re.search(r"^(light|load|pull)_work\.", key)}
    assert spelt == told(file)


@pytest.mark.parametrize(
    ("file", "columns"),
    [("orders.csv", ORDER_COLUMNS), ("sales.csv", SALE_COLUMNS), ("cooks.csv", COOK_COLUMNS)],
)
def test_every_column_is_on_the_page(file, columns):
    """The columns of the three lists."""
    assert told(file) == set(columns)


def test_every_file_a_house_may_have_has_its_section():
    """No house file goes untold."""
    assert set(SECTIONS) == {*NEEDED, *OPTIONAL}


def test_the_examples_are_a_house_without_doubts(example):
    """What a reader copies from the page works."""
    folder, house, _ = example
    assert stray_files(folder) == []
    assert [str(d) for d in every_doubt(house, date(2026, 12, 14))] == []
