"""The library of cuts, pit kinds and densities."""

import tomllib
from importlib.resources import files

import pytest

from board.errors import HouseFileError
from board.house.kinds import GALLON_L
from board.house.library import (
    densities,
    library_cut,
    library_cuts,
    pit_prior,
    practice_hours,
)
from board.house.model import Handling, PitKind

NAMES = (
    "brisket",
    "brisket-flat",
    "beef-ribs",
    "beef-rib-roast",
    "beef-rib-roast-boneless",
    "beef-round-roast",
    "pork-shoulder",
    "pork-shoulder-boned",
    "pork-loin",
    "spare-ribs",
    "ham-bone-in",
    "ham-boneless",
    "lamb-leg",
    "lamb-leg-boneless",
    "lamb-shoulder",
    "chicken-whole",
    "chicken-half",
    "turkey-whole",
    "turkey-breast",
    "sausage",
)


def rows(name):
    """A data table of the package as written."""
    return tomllib.loads(files("board.house").joinpath("data", f"{name}.toml").read_text(encoding="utf-8"))


def test_every_promised_cut_is_there():
    """The commands promise these twenty names."""
    assert set(NAMES) <= set(library_cuts())


@pytest.mark.parametrize("id", NAMES)
def test_a_composition_sums_to_about_one(id):
    """Each nutrient of SR26 is measured apart, so the sum is one within 2 %."""
    c = library_cut(id).composition
    assert c.water + c.protein + c.fat + c.ash + c.carbohydrate == pytest.approx(1, abs=0.02)


@pytest.mark.parametrize("id", NAMES)
def test_a_size_times_its_density_is_its_weight(id):
    """Thickness, width, length, fill and density give the stated mass within 3 %."""
    size, density = library_cut(id).size, rows("cuts")[id]["size"]["density_kg_m3"]
    volume = size.thickness_m * size.width_m * size.length_m * size.fill
    assert volume * density == pytest.approx(size.at_kg, rel=0.03)


@pytest.mark.parametrize("id", NAMES)
def test_a_piece_fits_the_grate_it_is_given(id):
    """The grate a piece takes covers its plan and a gap of one to three centimetres."""
    cut = library_cut(id)
    tight, loose = ((cut.size.width_m + gap) * (cut.size.length_m + gap) for gap in (0.01, 0.03))
    assert 0.99 * tight <= cut.area_m2 <= 1.01 * loose


@pytest.mark.parametrize("id", NAMES)
def test_yields_are_fractions_and_ranges_are_upright(id):
    """Nothing weighs more cooked than raw, and each range runs low to high."""
    cut = library_cut(id)
    for spread in (cut.yields.raw_to_trimmed, cut.yields.trimmed_to_cooked, cut.yields.cooked_to_served):
        assert 0 < spread.low <= spread.high <= 1
    assert cut.rest_minutes[0] < cut.rest_minutes[1]
    assert cut.pit_c.low < cut.pit_c.usual < cut.pit_c.high
    assert cut.size.at_kg == cut.mass_kg.usual


@pytest.mark.parametrize("id", NAMES)
def test_every_group_of_values_tells_its_source(id):
    """Composition, weight, size, area, yields and practice each carry a source."""
    sources = {key: value["source"] for key, value in rows("cuts")[id].items() if isinstance(value, dict)}
    assert {"composition", "mass_kg", "size", "area_m2", "yields", "practice", "handling"} <= set(sources)
    assert all(sources.values())
    assert "NDB" in sources["composition"]


def test_brisket_is_nutrient_data_bank_item_13803():
    """USDA SR26, NDB 13803: water 61.08, protein 18.42, fat 19.06, ash 0.88 g in 100 g."""
    c = library_cut("brisket").composition
    assert (c.water, c.protein, c.fat, c.ash) == (0.6108, 0.1842, 0.1906, 0.0088)


def test_poultry_is_pulled_no_lower_than_the_food_code_asks():
    """FDA Food Code 3-401.11(A)(3): poultry reaches 74 °C."""
    birds = [c for c in library_cuts().values() if c.handling is Handling.POULTRY]
    assert len(birds) == 4
    assert all(bird.pull_core_c >= 74 for bird in birds)


@pytest.mark.parametrize("kind", list(PitKind))
def test_every_pit_kind_has_its_usual_behaviour(kind):
    """Each kind tells its air, warm-up, fuel and control, with a source beside every value."""
    prior = pit_prior(kind)
    assert prior.h_c.low > 0
    assert prior.setpoint_c[0] < prior.setpoint_c[1]
    assert 0 <= prior.tend_fraction < 1
    assert all(v["source"] for v in rows("pit_kinds")[kind].values() if isinstance(v, dict))


def test_practice_hours_run_between_the_temperatures_of_the_table():
    """Between two temperatures by a straight line, beyond them the nearest."""
    assert practice_hours("brisket", 121) == (11, 16)
    assert practice_hours("brisket", 114) == (12.5, 18)
    assert practice_hours("brisket", 90) == (14, 20)
    assert practice_hours("brisket", 180) == (8, 12)


def test_a_cup_of_table_salt_weighs_292_grams():
    """USDA SR26, NDB 02047: 292 g a cup; honey (19296) 339 g."""
    cup = GALLON_L / 16
    assert densities()["salt"] * cup == pytest.approx(0.292, rel=0.001)
    assert densities()["honey"] * cup == pytest.approx(0.339, rel=0.001)
    assert all(row["source"] for row in rows("densities").values())


@pytest.mark.parametrize("table", ["densities", "least_core", "recipe_kinds"])
def test_every_row_of_the_other_tables_tells_its_source(table):
    """No limit and no default stands without where it comes from."""
    assert all(row["source"] for row in rows(table).values())


def test_an_unknown_cut_is_told_with_the_known_ones():
    """The error lists what the library has."""
    with pytest.raises(HouseFileError, match=r"no cut 'briskit'.*brisket"):
        library_cut("briskit")
