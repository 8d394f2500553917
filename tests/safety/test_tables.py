"""The tables: each figure has its source, both scales say the same, and what is borrowed is said."""

from collections.abc import Iterator
from typing import Any

import pytest

from board.errors import BoardError
from board.house.model import Handling
from board.safety.limits import cook_rule
from board.safety.tables import Limit, edition, place_name, places, rules, table, who_decides

TABLES = ("us", "eu", "uk", "fsis", "lethality")
# Appendix A prints 58.4 and 59.5 °C beside 137 and 139 °F, which are 58.33 and 59.44 °C
ODD_PRINTS = {(58.4, 137), (59.5, 139)}


def leaves(part: Any, path: str) -> Iterator[tuple[str, dict[str, Any]]]:
    """Every table within a table, with where it stands."""
    if isinstance(part, dict):
        yield path, part
        for key, value in part.items():
            yield from leaves(value, f"{path}.{key}")
    elif isinstance(part, list):
        for i, value in enumerate(part):
            yield from leaves(value, f"{path}[{i}]")


PAIRS = [
    (path, row["c"], row["f"])
    for name in TABLES
    for path, row in leaves(table(name), name)
    if "c" in row and "f" in row
]


@pytest.mark.parametrize(("path", "c", "f"), PAIRS, ids=[path for path, _, _ in PAIRS])
def test_both_scales_of_a_limit_say_the_same(path: str, c: float, f: float):
    """A °C printed whole is within half a degree of its °F, one printed to a tenth within half a tenth."""
    if (c, f) in ODD_PRINTS:
        return
    assert abs(c - (f - 32) / 1.8) <= (0.5 if isinstance(c, int) else 0.0501)


def test_the_comparison_of_scales_meets_every_kind_of_limit():
    """The walk above reaches the charts, ovens, holding, cooling, reheating, thawing and plants' tables."""
    paths = " ".join(path for path, _, _ in PAIRS)
    for part in ("cooking", "roast_oven", "holding", "cooling", "reheating", "thawing", "time_control"):
        assert f"us.{part}" in paths
    assert len([path for path, _, _ in PAIRS if path.startswith("fsis.meat")]) == 31
    assert len([path for path, _, _ in PAIRS if path.startswith("fsis.poultry")]) == 26


@pytest.mark.parametrize("name", TABLES)
def test_every_part_says_where_it_is_from_and_how_sure_it_is(name: str):
    """A part has its source, how it was come by and how sure that is; a place has its edition."""
    parts = [part for _, part in leaves(table(name), name) if "source" in part or "edition" in part]
    assert parts
    for part in parts:
        if "edition" in part and "source" not in part:
            assert part["decides"]
            continue
        assert part["how"].split()[0].rstrip(";:,") in {"found", "memory", "derived"}
        assert part["confidence"].split(":")[0] in {"high", "medium", "low"}


def test_the_times_of_thawing_are_those_printed_by_the_pound():
    """24 h for 4 to 5 lb in the refrigerator, 30 min a pound in cold water; a pound is 0.45359237 kg."""
    rows = rules("us", "thawing").rows["minutes_a_kg"]
    assert rows["fridge"]["least"] == pytest.approx(24 * 60 / (5 * 0.45359237), abs=0.05)
    assert rows["fridge"]["most"] == pytest.approx(24 * 60 / (4 * 0.45359237), abs=0.05)
    assert rows["water"]["least"] == pytest.approx(30 / 0.45359237, abs=0.05)


def test_a_limit_met_in_either_scale():
    """57 °C and 135 °F (57.2 °C): a record in °C meets the lower, one in °F only its own."""
    hot, cool = Limit(57, 135), Limit(21, 70)
    assert hot.least_c() == 57
    assert hot.least_c(in_fahrenheit=True) == pytest.approx(57.2222, abs=1e-4)
    assert cool.most_c() == pytest.approx(21.1111, abs=1e-4)
    assert (Limit(63).least_c(in_fahrenheit=True), str(Limit(63)), str(hot)) == (
        63,
        "63 °C",
        "57 °C (135 °F)",
    )


@pytest.mark.parametrize("place", places())
def test_every_place_has_every_rule_or_says_whose_it_borrows(place: str):
    """A place's missing figures are the United States', said in words, with who decides."""
    assert edition(place)
    assert "decide" in who_decides(place)
    for part in ("holding", "cooling", "reheating", "thawing", "time_control", "date_marks", "thermometer"):
        found = rules(place, part)
        own = part in table(place)
        assert found.source
        assert (found.borrowed == "") == own
        assert own or place_name("us") in found.borrowed
    for handling in Handling:
        assert (cook_rule(handling, place).borrowed == "") == (place != "eu")


def test_an_unknown_place_is_told():
    """What is allowed stands in the one line."""
    with pytest.raises(BoardError, match="jurisdiction: found 'mars', allowed us, eu, uk"):
        rules("mars", "holding")


def test_the_united_kingdom_cooks_to_70_degrees_for_2_minutes_and_holds_at_63():
    """Food Standards Agency guidance and the 2013 regulations, from memory: and what counts the same."""
    rows = {row.at.c: row.seconds for row in cook_rule(Handling.POULTRY, "uk").printed}
    assert rows == {60: 2700, 65: 600, 70: 120, 75: 30, 80: 6}
    holding = rules("uk", "holding")
    assert (holding.limit("hot_least").least_c(), holding.limit("cold_most").most_c()) == (63, 8)
