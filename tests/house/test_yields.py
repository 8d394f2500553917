"""The library's yields beside published ones, and the sum from raw meat to the plate on published figures."""

import tomllib
from pathlib import Path

import pytest

from board.house.library import library_cut
from board.house.model import Yields
from board.house.spans import Spread

PUBLISHED = tomllib.loads(Path(__file__).with_name("published_yields.toml").read_text("utf-8"))
ROWS = PUBLISHED["usda"]["rows"]


def row_name(row):
    """The cut of the library and the row it stands beside."""
    return f"{row['like']}-{row['ndb']}"


@pytest.mark.parametrize("row", [row for row in ROWS if row["end"] == "as far"], ids=row_name)
def test_what_is_cooked_as_far_keeps_what_the_table_says(row):
    """The published mean lies within the library's range of cooked from trimmed, as USDA's raw is."""
    cooked = library_cut(row["like"]).yields.trimmed_to_cooked
    assert cooked.low <= row["mean"] / 100 <= cooked.high


@pytest.mark.parametrize("row", [row for row in ROWS if row["end"] == "not as far"], ids=row_name)
def test_what_is_cooked_to_tenderness_keeps_less_than_a_shorter_cook(row):
    """The library's usual is below the published mean, by no more than a fifth of the raw mass."""
    usual = library_cut(row["like"]).yields.trimmed_to_cooked.usual
    assert row["mean"] / 100 - 0.2 <= usual < row["mean"] / 100


@pytest.mark.parametrize("row", [row for row in ROWS if row["end"] == "further"], ids=row_name)
def test_a_roast_pulled_rare_keeps_more_than_one_cooked_through(row):
    """The library's usual is above the published mean, by a tenth of the raw mass at most."""
    usual = library_cut(row["like"]).yields.trimmed_to_cooked.usual
    assert row["mean"] / 100 < usual <= row["mean"] / 100 + 0.1


@pytest.mark.parametrize("row", PUBLISHED["smoked_brisket"]["rows"], ids=lambda row: f"{row['end_c']}-c")
def test_smoked_briskets_keep_what_was_weighed(row):
    """Briskets smoked to 85 and 90 °C and held for 3 h lie within the library's range."""
    cooked = library_cut("brisket").yields.trimmed_to_cooked
    assert cooked.low <= row["percent"] / 100 <= cooked.high


@pytest.mark.parametrize(("part", "kg"), [("lean_and_fat_g", 5.78), ("lean_only_g", 5.25)])
def test_ten_kilograms_of_butt_come_to_the_published_plate(part, kg):
    """10 kg of bone-in butt: 7.60 kg cooked, 5.78 kg of lean and fat, 5.25 kg of lean, to 0.01 kg."""
    butt = PUBLISHED["butt"]
    cooked = butt["cooked_percent"] / 100
    edible = butt[part] / butt["from_raw_g"]
    yields = Yields(Spread(1, 1, 1), Spread(cooked, cooked, cooked), Spread(*(edible / cooked,) * 3))
    assert 10 * yields.raw_to_trimmed.usual * yields.trimmed_to_cooked.usual == pytest.approx(7.60, abs=0.005)
    assert 10 * yields.raw_to_served == pytest.approx(kg, abs=0.01)
