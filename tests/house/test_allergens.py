"""Allergens by an ingredient's name: hints, and the lists they are named from."""

from dataclasses import replace
from datetime import date

import pytest

from board.house.allergens import allergen_hint, allergen_hints, allergen_names
from board.house.check import doubts
from board.house.files import read_house
from board.house.model import Ingredient
from board.house.seeds import seed_house


@pytest.mark.parametrize(
    ("name", "us", "eu"),
    [
        ("butter", ("milk",), ("milk",)),
        ("Unsalted Butter", ("milk",), ("milk",)),
        ("peanut butter", ("peanuts",), ("peanuts",)),
        ("soy sauce", ("soybeans", "wheat"), ("soybeans", "gluten")),
        ("whole grain mustard", (), ("mustard",)),
        ("celery salt", (), ("celery",)),
        ("Worcestershire-type sauce", ("fish",), ("fish", "gluten")),
        ("tahini", ("sesame",), ("sesame",)),
    ],
)
def test_what_an_ingredient_usually_holds(name: str, us: tuple[str, ...], eu: tuple[str, ...]):
    """The longest name known within it decides, in any case and with any words about it."""
    hint = allergen_hint(name)
    assert hint is not None
    assert (hint.us, hint.eu) == (us, eu)


@pytest.mark.parametrize("name", ["salt", "coconut milk", "cocoa butter", "corn flour", "eggplant", "water"])
def test_what_only_sounds_like_one_is_none(name: str):
    """Coconut milk is no milk, and an eggplant no egg."""
    assert allergen_hint(name) is None


def test_the_houses_own_word_goes_first():
    """Where the house says what an ingredient holds, nothing is guessed beside it."""
    own = Ingredient("butter", 1.0, "kg", allergens=("milk",))
    assert allergen_hints([own, Ingredient("soy sauce", 1.0, "kg")])[0].ingredient == "soy sauce"
    assert len(allergen_hints([own])) == 0


def test_the_nine_and_the_fourteen():
    """FALCPA and the FASTER Act name nine; Regulation (EU) 1169/2011, Annex II, fourteen."""
    assert len(allergen_names("us")) == 9
    assert len(allergen_names("eu")) == len(allergen_names("uk")) == 14
    assert {"celery", "mustard", "lupin", "molluscs", "sulphites"} <= set(allergen_names("eu"))


def test_every_hint_is_of_its_list():
    """No hint names an allergen its list does not have."""
    for name in ("butter", "soy sauce", "beer", "oyster sauce", "shrimp", "almond", "lupin flour", "wine"):
        hint = allergen_hint(name)
        assert hint is not None
        assert set(hint.us) <= set(allergen_names("us"))
        assert set(hint.eu) <= set(allergen_names("eu"))


def test_one_allergen_is_named_once():
    """Wheat is not told a second time as gluten, nor nuts as tree nuts."""
    soy = allergen_hint("soy sauce")
    assert soy is not None
    assert soy.names == ("soybeans", "wheat")


def test_an_allergen_of_no_list_is_a_doubt():
    """A word of the house's own, such as dairy, is told beside the names the lists have."""
    house = read_house(seed_house("tallow_row"))
    glaze = house.recipes["cider-glaze"]
    lines = tuple(replace(i, allergens=("dairy",)) if i.allergens else i for i in glaze.ingredients)
    odd = replace(house, recipes={**house.recipes, glaze.id: replace(glaze, ingredients=lines)})
    said = [str(doubt) for doubt in doubts(odd, date(2026, 12, 9))]
    assert any("cider-glaze: dairy is on no list of allergens" in each for each in said)
    assert not any("on no list" in str(doubt) for doubt in doubts(house, date(2026, 12, 9)))
