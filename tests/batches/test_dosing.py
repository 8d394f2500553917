"""Recipes dosed by surface, by volume and by displacement; scaled in any unit and back."""

from dataclasses import replace
from math import pi
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.batches.scale import covering, scaled
from board.batches.served import Served, dose_kg, litres_to_cover, meat_density_kg_l
from board.errors import BoardError, HouseFileError
from board.house.library import library_cut, library_cuts
from board.house.model import Recipe, RecipeKind, Size
from board.house.pieces import grown, surface_m2
from board.house.read_recipes import read_recipes
from board.house.tables import toml_table
from board.house.units import parse_mass_kg, registry

from .recipes import cure, recipe, salt, sugar, water


def read(use: str, *lines: str) -> Recipe:
    """A recipe as its file says it: its use, and `name = amount` lines."""
    text = f'[it]\nkind = "brine"\nuse = "{use}"\n'
    for line in lines:
        name, amount = line.split(" = ")
        text += f'[[it.ingredient]]\nname = "{name}"\namount = "{amount}"\n'
    return read_recipes(toml_table("recipes.toml", text), {})["it"]


def by_surface(g_m2: float) -> Recipe:
    """A rub of salt alone, dosed by surface."""
    rub = recipe(salt(1.0, "kg"), kind=RecipeKind.RUB, use=0.0)
    return replace(rub, use_kg_m2=g_m2 / 1_000)


# ---------------------------------------------------------------- the surface of a piece


def outline(shape: str, *cm: float, fill: float = 1.0) -> Size:
    """A piece of 5 kg with these sides: thickness, width, length."""
    thickness, width, length = (each / 100 for each in cm)
    return Size(5.0, thickness, width, length, shape, "isometric", fill)


def test_a_box_a_ball_and_a_can_have_the_surfaces_of_geometry():
    """6 a² of a cube, 4 pi r² of a ball (Thomsen exact there), 2 pi r (r + h) of a cylinder."""
    assert surface_m2(outline("slab", 10, 10, 10), 5.0) == pytest.approx(0.06)
    assert surface_m2(outline("ellip", 10, 10, 10), 5.0) == pytest.approx(4 * pi * 0.05**2)
    assert surface_m2(outline("ecyl", 10, 10, 20), 5.0) == pytest.approx(2 * pi * 0.05 * (0.05 + 0.20))


def test_an_ellipsoids_surface_is_what_adding_up_its_skin_gives():
    """15 x 24 x 39 cm, beside the surface integral over a fine net: Thomsen's formula is within 1.1 %."""
    a, b, c = 0.075, 0.12, 0.195
    u, v = np.meshgrid(np.linspace(0, pi, 801), np.linspace(0, 2 * pi, 801), indexing="ij")
    skin = np.sin(u) * np.sqrt(
        (b * c * np.sin(u) * np.cos(v)) ** 2 + (a * c * np.sin(u) * np.sin(v)) ** 2 + (a * b * np.cos(u)) ** 2
    )
    exact = np.trapezoid(np.trapezoid(skin, dx=2 * pi / 800, axis=1), dx=pi / 800)
    assert surface_m2(outline("ellip", 15, 24, 39), 5.0) == pytest.approx(exact, rel=0.011)


@given(mass=st.floats(1, 20), factor=st.floats(1.01, 3))
def test_a_piece_grown_alike_grows_its_surface_by_two_thirds(mass: float, factor: float):
    """The same shape with so much more mass has that to the power of two thirds more surface."""
    size = outline("block", 11, 19, 26)
    more = surface_m2(size, mass * factor) / surface_m2(size, mass)
    assert more == pytest.approx(factor ** (2 / 3))


def test_every_cut_of_the_library_has_a_surface_of_its_size():
    """No piece has less surface than a ball of its volume, nor more than five times the box's broad faces."""
    for cut in library_cuts().values():
        kg = cut.mass_kg.usual
        size = grown(cut.size, kg)
        volume = size.thickness_m * size.width_m * size.length_m * size.fill
        found = surface_m2(cut.size, kg)
        assert found > 0.98 * (36 * pi) ** (1 / 3) * volume ** (2 / 3), cut.id
        assert found < 5 * 2 * size.width_m * size.length_m, cut.id


# ---------------------------------------------------------------- doses


def test_a_rub_by_surface_goes_by_the_pieces_skin():
    """60 g/m2 on four shoulders is four times one shoulder's surface times 60 g."""
    cut = library_cut("pork-shoulder")
    one = surface_m2(cut.size, 4.0)
    assert dose_kg(by_surface(60), cut, 4, 4.0) == pytest.approx(4 * one * 0.060)


def test_what_is_written_by_the_meat_takes_no_more_than_its_shares():
    """A dry cure of 2.5 % and 1 % of the meat is 3.5 % of it, planned as it is weighed."""
    dry = recipe(salt(0.025, "of meat"), sugar(0.01, "of meat"), kind=RecipeKind.CURE, use=0.5)
    cut = library_cut("pork-loin")
    assert dose_kg(dry, cut, 3, 4.0) == pytest.approx(0.035 * 12.0)
    assert dose_kg(dry, cut, 3, 4.0) == pytest.approx(scaled(dry, 12.0).batch_kg)


def test_the_same_meat_in_smaller_pieces_takes_more_rub():
    """Eight pieces have more skin than four of the same mass in all."""
    cut = library_cut("pork-shoulder")
    assert dose_kg(by_surface(60), cut, 8, 2.0) > dose_kg(by_surface(60), cut, 4, 4.0)


def test_a_surface_without_a_cut_is_asked_for():
    """By surface, somebody must say of what."""
    with pytest.raises(BoardError, match="by surface, 60 g/m2, and no cut"):
        scaled(by_surface(60), 10.0)


@pytest.mark.parametrize(
    ("use", "kg_a_kg", "kg_m2", "l_kg"),
    [
        ("12 %", 0.12, 0, 0),
        ("60 g/m2", 0, 0.060, 0),
        ("0.6 L/kg", 0, 0, 0.6),
        ("1 qt/lb", 0, 0, 0.946352946 / 0.45359237),
        ("1 oz/sq ft", 0, 0.028349523125 / 0.09290304, 0),
    ],
)
def test_a_use_is_read_in_any_unit(use: str, kg_a_kg: float, kg_m2: float, l_kg: float):
    """Shares, masses on a surface and volumes for a mass, in the units of either side of the ocean."""
    found = read(use, "water = 1 kg")
    assert (found.use_kg_a_kg, found.use_kg_m2, found.use_l_a_kg) == pytest.approx((kg_a_kg, kg_m2, l_kg))


@pytest.mark.parametrize("use", ["0 %", "0 g/m2", "60 g", "2000 %", "60 m2/g", "3 C/kg", "nan", "-1 L/kg"])
def test_a_use_that_is_none_of_them_is_refused_with_all_three(use: str):
    """One line says what was found and the three ways it may be written."""
    with pytest.raises(HouseFileError, match=r"it.use: found .* 50 %, .* 60 g/m2, .* 0.6 L/kg"):
        read(use, "water = 1 kg")


@given(litres=st.floats(0.05, 3.0), share=st.floats(0.01, 0.25), meat=st.floats(0.5, 300))
def test_a_brine_by_volume_comes_to_its_litres(litres: float, share: float, meat: float):
    """Whatever its strength, so many litres for each kilogram is what is made, to a millionth."""
    brine = replace(recipe(water(1.0), salt(share), use=0.0, immersed_minutes=600), use_l_a_kg=litres)
    batch = scaled(brine, meat)
    assert batch.litres == pytest.approx(litres * meat, rel=1e-6)
    assert batch.salt_percent == pytest.approx(100 * share / (1 + share))


def test_a_volume_of_unknown_density_is_refused():
    """A rub by volume of an ingredient nobody knows the density of cannot be weighed."""
    rub = replace(recipe(salt(1.0, "kg"), kind=RecipeKind.RUB, use=0.0), use_l_a_kg=0.1)
    odd = replace(rub, ingredients=(replace(rub.ingredients[0], name="moon dust", role="other"),))
    with pytest.raises(BoardError, match="density is not known"):
        scaled(odd, 1.0)


# ---------------------------------------------------------------- displacement


def test_a_tub_filled_to_its_mark_takes_the_mark_less_the_meat():
    """40 kg of ham at its own density takes its litres of a 60 L tub; brine and meat fill it together."""
    ham = library_cut("ham-bone-in")
    meat = Served(40.0, ham, 5)
    assert meat.litres == pytest.approx(40.0 / meat_density_kg_l(ham))
    litres = litres_to_cover(60.0, meat)
    assert litres + meat.litres == pytest.approx(60.0)
    batch = scaled(
        covering(recipe(water(1.0), salt(0.06), use=0.6, immersed_minutes=600), 40.0, litres), 40.0
    )
    assert batch.litres == pytest.approx(litres, rel=1e-6)


def test_meat_that_fills_the_tub_alone_is_refused():
    """There is no room for brine: one line says so."""
    with pytest.raises(BoardError, match="larger container, or more than one"):
        litres_to_cover(30.0, Served(40.0, None))


def test_a_cuts_density_is_its_mass_over_its_solid():
    """The library's sizes close on densities of meat with its bones, 1.02 to 1.13 kg/L."""
    for cut in library_cuts().values():
        assert 1.02 < meat_density_kg_l(cut) < 1.13, cut.id


# ---------------------------------------------------------------- there and back

units = st.sampled_from(["g", "kg", "lb", "oz", "stone", "grain", "mg"])


@given(grams=st.floats(0.5, 5_000), one=units, other=units, factor=st.floats(0.001, 1_000))
def test_scaling_by_any_factor_and_unit_returns(grams: float, one: str, other: str, factor: float):
    """An amount written in one unit, scaled, written in another, and scaled back is what it was."""
    ask = registry().Quantity
    written = f"{ask(grams, 'g').to(one).magnitude:.15f} {one}"
    first = scaled(read("50 %", "water = 1 kg", f"spice = {written}"), 10.0)
    again = f"{ask(first.ingredients[1].grams * factor, 'g').to(other).magnitude:.15f} {other}"
    back = parse_mass_kg(again) / factor
    assert back * 1_000 == pytest.approx(first.ingredients[1].grams, rel=1e-9)
    twice = scaled(read("50 %", "water = 1 kg", f"spice = {written}"), 10.0 * factor)
    assert twice.ingredients[1].grams / factor == pytest.approx(first.ingredients[1].grams, rel=1e-9)


@given(cups=st.floats(0.1, 20), meat=st.floats(0.5, 100))
def test_a_volume_becomes_a_mass_by_the_ingredients_own_density(cups: float, meat: float):
    """Cups of honey (339 g each, USDA SR26) and of the same in millilitres weigh alike, whatever the meat."""
    in_cups = scaled(read("50 %", "water = 1 kg", f"honey = {cups:.9f} cup"), meat)
    in_ml = scaled(read("50 %", "water = 1 kg", f"honey = {cups * 236.5882365:.9f} mL"), meat)
    assert in_cups.ingredients[1].grams == pytest.approx(in_ml.ingredients[1].grams, rel=1e-6)
    ratio = in_cups.ingredients[1].grams / in_cups.ingredients[0].grams
    assert ratio == pytest.approx(0.339 * cups, rel=1e-3)


@given(
    w=st.floats(0.1, 5),
    s=st.floats(0.01, 1),
    g=st.floats(0, 0.5),
    c=st.floats(0, 0.005),
    meat=st.floats(0.2, 300),
)
def test_what_is_weighed_comes_to_the_batch_within_half_its_steps(
    w: float, s: float, g: float, c: float, meat: float
):
    """Each amount is off by half a step at most, and the total of what is shown by no more than theirs."""
    batch = scaled(recipe(water(w), salt(s, "kg"), sugar(g, "kg"), cure(c, "of meat"), use=0.3), meat)
    for line in batch.ingredients:
        assert abs(line.shown.grams - line.grams) <= line.shown.step_g / 2 * (1 + 1e-6)
    allowed = sum(line.shown.step_g / 2 for line in batch.ingredients)
    assert abs(1_000 * (batch.shown_kg - batch.batch_kg)) <= allowed * (1 + 1e-6)


def test_a_recipe_of_a_house_reads_as_it_is_written(tmp_path: Path):
    """Half parts, fractions and spelled-out singular parts are parts."""
    found = read("2 %", "salt = ½ parts", "paprika = 1 part", "garlic powder = 1/4 parts")
    assert [i.amount for i in found.ingredients] == [0.5, 1.0, 0.25]
