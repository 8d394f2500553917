"""The basic injected shoulder of common practice, no source: what it leaves in the meat of an invented house.

A litre of water with 100 g of salt and 100 g of sugar, about 750 mL into a 10 kg cut, two days in the
cooler; a rub low in salt, by parts; a glaze of equal masses made while the meat rests.
"""

import json
from pathlib import Path

import pytest

from board.batches.brine import density_kg_l
from board.cli import run

HOUSE = {
    "house.toml": 'name = "Low Acre"\nzone = "America/Denver"\n',
    "pits.toml": '[old]\nname = "Old"\nkind = "offset"\narea = "2 m2"\nsetpoint = ["100 C", "140 C"]\n',
    "items.toml": '[plate]\nname = "plate"\ncut = "big-shoulder"\nportion = "180 g"\n'
    '[[plate.finish]]\nwhat = "glaze"\nrecipe = "honey-glaze"\nwork = "10 min"\n',
    "services.toml": "",
    "cuts.toml": """
[big-shoulder]
like = "pork-shoulder"
name = "big shoulder"
mass = "10 kg"
[[big-shoulder.prep]]
what = "inject"
recipe = "basic-brine"
gap = ["2 days", "3 days"]
[[big-shoulder.prep]]
what = "rub"
recipe = "low-salt-rub"
gap = ["1 h", "12 h"]
""",
    "recipes.toml": """
[basic-brine]
kind = "brine"
use = "75 mL/kg"
[[basic-brine.ingredient]]
name = "water"
amount = "1 L"
[[basic-brine.ingredient]]
name = "salt"
amount = "100 g"
[[basic-brine.ingredient]]
name = "sugar"
amount = "100 g"

[low-salt-rub]
kind = "rub"
use = "120 g/m2"
[[low-salt-rub.ingredient]]
name = "salt"
amount = "½ parts"
[[low-salt-rub.ingredient]]
name = "paprika"
amount = "1 part"
[[low-salt-rub.ingredient]]
name = "onion powder"
amount = "1 part"
[[low-salt-rub.ingredient]]
name = "garlic powder"
amount = "1/4 parts"

[honey-glaze]
kind = "glaze"
use = "3 %"
make = "20 min"
part = "100 g"
[[honey-glaze.ingredient]]
name = "butter"
amount = "1 part"
allergens = ["milk"]
[[honey-glaze.ingredient]]
name = "sugar"
amount = "1 part"
[[honey-glaze.ingredient]]
name = "honey"
amount = "1 part"
""",
}


@pytest.fixture
def house(tmp_path: Path) -> str:
    """The invented house on disk."""
    for name, text in HOUSE.items():
        (tmp_path / name).write_text(text)
    return str(tmp_path)


def document(capsys: pytest.CaptureFixture[str], *words: str) -> dict:
    """What `board batch … --json` answers."""
    assert run(["batch", *words, "--json"]) == 0
    return json.loads(capsys.readouterr().out)


def test_the_brine_and_what_it_leaves(capsys, house: str):
    """100 in 1200 is 8.33 %; 750 mL of it is 0.82 kg, which leaves 0.63 % of salt and as much sugar."""
    found = document(capsys, "basic-brine", house, "--for", "10 kg")
    brine_kg = 0.750 * density_kg_l(100 / 12, 100 / 12)
    assert found["brine"]["salt_percent"] == pytest.approx(100 / 12, abs=1e-5)
    assert found["batch_litres"] == pytest.approx(0.750, abs=1e-4)
    assert found["meat"]["ml_a_piece"] == pytest.approx(750, abs=0.2)
    assert found["meat"]["pickup_percent"] == pytest.approx(10 * brine_kg, abs=1e-3)
    left = brine_kg / 12 / (10 + brine_kg) * 100
    assert left == pytest.approx(0.63, abs=0.01)
    assert found["meat"]["salt_percent"] == pytest.approx(left, abs=1e-4)
    assert found["meat"]["sugar_percent"] == pytest.approx(left, abs=1e-4)


def test_the_rub_adds_its_share_of_salt(capsys, house: str):
    """Half a part in two and three quarters of what sticks to the surface comes on top of the brine's."""
    brine = document(capsys, "basic-brine", house, "--for", "10 kg")
    rub = document(capsys, "low-salt-rub", house, "--for", "10 kg")
    assert rub["batch_kg"] == pytest.approx(0.120 * rub["surface_m2"], abs=1e-6)
    assert 0.2 < rub["surface_m2"] < 0.5  # a 10 kg shoulder is 16 x 26 x 36 cm or so
    salt_g = 1_000 * brine["batch_kg"] / 12 + 1_000 * rub["batch_kg"] * 0.5 / 2.75
    seasoned_g = 1_000 * (10 + brine["batch_kg"] + rub["batch_kg"])
    assert brine["together"]["salt_percent"] == pytest.approx(100 * salt_g / seasoned_g, abs=1e-4)
    assert brine["together"]["recipes"] == ["basic brine", "low salt rub"]
    assert rub["together"]["salt_percent"] == pytest.approx(brine["together"]["salt_percent"], abs=1e-5)


def test_two_days_spread_it_between_the_needles(capsys, house: str):
    """At 48 h the middle between two holes has three quarters of the mean by the published coefficient."""
    found = document(capsys, "basic-brine", house, "--for", "10 kg")["spread"]
    assert found["planned"]["hours"] == 49
    assert found["depth_mm"] == 12.5
    at = found["planned"]["middle_percent_of_mean"]
    assert at["slow"] < 78 < at["fast"]
    assert at["usual"] == pytest.approx(77, abs=2)


def test_it_is_fresh_and_cooked_as_injected_meat(capsys, house: str):
    """No nitrite: seasoned fresh pork, under the rule of injected meat and not of an intact roast."""
    found = document(capsys, "basic-brine", house, "--for", "10 kg")
    assert found["cooked_as"] == "injected"
    assert "not a cured product" in found["meat"]["verdict"]
    assert run(["batch", "basic-brine", house, "--for", "10 kg"]) == 0
    text = capsys.readouterr().out
    assert "seasoned fresh pork, not a cured product" in text
    assert "Inject about 750 mL into each 10 kg piece." in text
    assert "It is cooked as injected: " in text
    assert "not as an intact roast" in text


def test_the_glaze_is_equal_masses_and_stays_outside(capsys, house: str):
    """A hundred grams each of butter, sugar and honey for 10 kg; nothing of it counts in the meat."""
    found = document(capsys, "honey-glaze", house, "--for", "10 kg")
    assert [line["grams"] for line in found["ingredients"]] == pytest.approx([100, 100, 100])
    assert found["meat"] is None
    assert found["allergens"] == ["milk"]


def test_ready_in_a_day_and_a_half_instead(capsys, house: str):
    """The what-if says how uneven: less in the middle, more at the holes, beside what was planned."""
    assert run(["batch", "basic-brine", house, "--for", "10 kg", "--hours", "36"]) == 0
    text = capsys.readouterr().out
    assert "Ready after 36 h instead of 49 h: the middle has 61 % (51–69 %) of the mean" in text
    found = document(capsys, "basic-brine", house, "--for", "10 kg", "--hours", "36 h")["spread"]
    asked, planned = found["asked"], found["planned"]
    assert asked["middle_percent_of_mean"]["usual"] < planned["middle_percent_of_mean"]["usual"]
    assert asked["outside_percent_of_mean"]["usual"] > planned["outside_percent_of_mean"]["usual"]
