"""Cautions by topic."""

import tomllib
from importlib.resources import files

import pytest

from board.house.degrees import in_one_scale
from board.house.model import Display
from board.safety.cautions import cautions, in_short, topics


def test_the_topics_that_can_hurt_are_covered():
    """Undercooked meat, cures, injected meat, raw poultry, brine, cooling, fire, ash, fumes and hot fat."""
    asked = {
        "undercooked",
        "cure",
        "injected",
        "poultry",
        "brine",
        "cooling",
        "fire",
        "ash",
        "monoxide",
        "fat",
    }
    assert asked == set(topics())


def test_each_caution_is_short_and_has_a_source():
    """A caution is read at a glance, and says in the table where it comes from."""
    table = tomllib.loads((files("board.safety") / "data" / "cautions.toml").read_text("utf-8"))
    for topic in topics():
        assert len(cautions(topic)) == len(table[topic])
        for row in table[topic]:
            assert row["source"]
            assert row["how"] in {"found", "memory", "derived"}
            assert len(row["text"]) <= 200


def test_the_first_of_each_topic_fits_one_line_of_a_small_screen():
    """Eighty columns less what stands before it on a load's page."""
    for topic in topics():
        for scale in ("degF", "degC"):
            assert 20 < len(in_one_scale(in_short(topic), Display(temperature=scale))) <= 72


def test_an_unknown_topic_is_a_mistake_of_the_program():
    """Views ask for topics by name; a wrong one must not pass as nothing to mind."""
    with pytest.raises(KeyError):
        cautions("weather")
