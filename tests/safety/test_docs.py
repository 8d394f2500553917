"""The page on keeping people well says what the tables and the command hold."""

import re
from pathlib import Path

import pytest

from board.commands.safe import command
from board.house.model import JURISDICTIONS, Handling
from board.safety.log import trusted_minutes
from board.safety.tables import limit, table

PAGE = (Path(__file__).parents[2] / "docs" / "safety.md").read_text(encoding="utf-8")


def section(name: str) -> str:
    """The text under a heading."""
    return PAGE.split(f"\n## {name}\n")[1].split("\n## ")[0]


def test_every_option_is_told():
    """The table of options is the command's."""
    told = set(re.findall(r"^\| `(--[a-z-]+)` \|", section("board safe"), re.M))
    assert told == {option for p in command.params for option in p.opts if option.startswith("--")}
    assert all(f"`{handling}`" in section("board safe") for handling in Handling)


def test_every_rule_of_the_table_is_told_with_its_source():
    """Each part of the United States' table has its paragraph on the page, and every place its line."""
    for name, part in table("us").items():
        parts = part.values() if name == "cooking" else [part]
        for one in parts:
            for paragraph in re.findall(r"\d-\d{3}\.\d{2}(?:\([A-Z]\)(?:\(\d\))?)?", one.get("source", "")):
                assert paragraph in section("Rules covered"), paragraph
    for place in JURISDICTIONS:
        assert f"| `{place}` |" in section("Whose rules")


@pytest.mark.parametrize("part", ["intact-cut", "injected", "poultry"])
def test_the_figures_of_cooking_are_the_tables(part: str):
    """Each row of the short rules stands on the page as it is printed."""
    for row in table("us")["cooking"][part]["rows"]:
        assert str(limit(row)) in section("Rules covered")


def test_the_trusted_stretches_are_the_tables():
    """Hours between readings, by use."""
    told = [float(hours) for hours in re.findall(r"\| (\d+) h \|", section("How a record is read"))]
    assert told == [trusted_minutes(use) / 60 for use in ("cooking", "cooling", "holding")]
