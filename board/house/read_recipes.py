"""Reading recipes.toml: amounts by weight, by volume, in parts, or as a share of the meat or the water."""

import re
from collections.abc import Mapping
from dataclasses import replace
from math import ceil, isfinite

from board.errors import HouseFileError, QuantityError
from board.house import kinds, units
from board.house.chilling import around_c, chill_minutes
from board.house.library import density_of, usual_keeping_minutes
from board.house.model import ChillWay, Container, Ingredient, Recipe, RecipeKind, Work
from board.house.read_steps import read_work
from board.house.tables import Table, fraction
from board.house.wording import duration

ROLES = ("salt", "sugar", "water", "cure", "other")
AMOUNT_ALLOWED = "an amount such as 1.2 kg, 3 cup, 2 parts, 2.5 % of meat or 6 % of water"
USE_ALLOWED = (
    "how much of the batch the meat takes: a share of its mass such as 50 %, a mass on its surface such as "
    "60 g/m2, or a volume for its mass such as 0.6 L/kg"
)
PRODUCTS = ("whole", "bacon", "ground")
MOST_USE_KG_A_KG = 10.0
HOLES_M = (0.005, 0.2)
# A brine is chilled to no colder than this and no warmer than that, in °C.
CHILLED_TO_C = (-2.0, 10.0)
SHARE = re.compile(r"(?P<share>.+?)\s*of\s+(?:the\s+)?(?P<what>meat|water)", re.IGNORECASE)
PARTS = re.compile(r"(?P<count>\S+)\s*parts?", re.IGNORECASE)
LOOKS_LIKE_CURE = re.compile(r"\b(?:cur(?:e|ing)|nitrite|pink salt|prague)", re.IGNORECASE)


def read_recipes(file: Table | None, containers: Mapping[str, Container] | None = None) -> dict[str, Recipe]:
    """Every recipe by id; an empty mapping without a file."""
    if file is None:
        return {}
    recipes = {row.id: _recipe(row, containers or {}) for row in file.named()}
    file.done()
    return recipes


def _recipe(row: Table, containers: Mapping[str, Container]) -> Recipe:
    kind = row.choice("kind", RecipeKind)
    use_kg_a_kg, use_kg_m2, use_l_a_kg = row.value("use", None, _use, USE_ALLOWED)
    recipe = Recipe(
        id=row.id,
        name=row.text("name", row.id.replace("-", " ")),
        kind=kind,
        ingredients=_ingredients(row),
        use_kg_a_kg=use_kg_a_kg,
        make_work=read_work(row, "make", Work(20.0)),
        ready_after_minutes=row.minutes("ready_after", 0.0),
        keeps_minutes=row.minutes_above_nought("keeps", usual_keeping_minutes(kind)),
        pickup=row.fraction("pickup", 0.0),
        immersed_minutes=row.minutes("immersed") if row.has("immersed") else None,
        notes=row.texts("notes"),
        boil_minutes=row.minutes("boil", 0.0),
        chill=row.choice("chill", ChillWay) if row.has("chill") else None,
        chilled_to_c=row.temperature_c("chilled_to", 4.0),
        vessel=_container(row, "vessel", containers),
        container=_container(row, "container", containers),
        use_kg_m2=use_kg_m2,
        use_l_a_kg=use_l_a_kg,
        product=row.one_of("product", PRODUCTS) if row.has("product") else None,
        holes_m=_holes_m(row),
    )
    recipe = _ready(row, recipe, containers)
    row.done()
    if recipe.keeps_minutes < recipe.ready_after_minutes:
        key = "keeps" if row.has("keeps") else "ready_after"
        ready, keeps = duration(recipe.ready_after_minutes), duration(recipe.keeps_minutes)
        raise row.refuse(key, f"a batch that keeps at least until it is ready: ready {ready}, keeps {keeps}")
    return recipe


def _container(row: Table, key: str, containers: Mapping[str, Container]) -> str | None:
    if not row.has(key):
        return None
    if (named := row.text(key)) not in containers:
        raise row.refuse(key, f"one of: {', '.join(containers) or 'containers.toml, which has none'}")
    return named


def _ready(row: Table, recipe: Recipe, containers: Mapping[str, Container]) -> Recipe:
    """The recipe, ready once boiled and chilled where the house does not say after how long."""
    if recipe.boil_minutes > 0 and recipe.chill is None and not row.has("ready_after"):
        raise row.refuse("chill", f"how it is cooled once boiled: {', '.join(ChillWay)}; or ready_after")
    if recipe.chill is None:
        return recipe
    if recipe.boil_minutes == 0:
        raise row.refuse("chill", "a boil before it, such as 10 min: what is not boiled needs no chilling")
    least = max(CHILLED_TO_C[0], 0.0 if recipe.chill is ChillWay.ICE else around_c(recipe.chill) + 0.5)
    if not least <= recipe.chilled_to_c <= CHILLED_TO_C[1]:
        raise row.refuse(
            "chilled_to", f"{least:g} C to {CHILLED_TO_C[1]:g} C where the {recipe.chill} cools it"
        )
    if row.has("ready_after"):
        return recipe
    minutes = chill_minutes(recipe.chill, recipe.chilled_to_c, containers.get(recipe.cools_in or ""))
    if not isfinite(minutes):
        raise row.refuse(
            "ready_after", "a time such as 5 h, or a vessel of containers.toml to reckon it from"
        )
    return replace(recipe, ready_after_minutes=ceil(recipe.boil_minutes + minutes))


def _holes_m(row: Table) -> float | None:
    """How far apart needle holes are."""
    if not row.has("holes"):
        return None
    metres = row.length_m("holes")
    if not HOLES_M[0] <= metres <= HOLES_M[1]:
        raise row.refuse("holes", "how far apart the needle holes are, from 5 mm to 20 cm, such as 4 cm")
    return metres


def _use(raw: object) -> tuple[float, float, float]:
    """Kilograms a kilogram, kilograms a square metre, litres a kilogram: one of them, the others nought."""
    try:
        found = (fraction(raw, MOST_USE_KG_A_KG), 0.0, 0.0)
    except QuantityError:
        found = (0.0, *_use_by_surface_or_volume(str(raw)))
    if not sum(found) > 0:
        raise ValueError(raw)
    return found


def _use_by_surface_or_volume(text: str) -> tuple[float, float]:
    try:
        return units.parse_mass_an_area_kg_m2(text), 0.0
    except QuantityError:
        return 0.0, units.parse_volume_a_mass_l_kg(text)


def _ingredients(row: Table) -> tuple[Ingredient, ...]:
    part = row.text("part") if row.has("part") else None
    found = tuple(_ingredient(line, part) for line in row.tables("ingredient"))
    if not found:
        raise HouseFileError(
            f"{row.file}, {row.id}: found no ingredient, allowed one or more [[{row.id}.ingredient]]"
        )
    if part is None and _mixes_parts(found):
        raise row.refuse("part", "what one part is, such as 100 g or 1 cup, where parts stand beside masses")
    if any(i.basis == "of water" for i in found) and not any(i.role == "water" for i in found):
        raise HouseFileError(
            f"{row.file}, {row.id}: found a share of the water, allowed beside an ingredient water"
        )
    return found


def _ingredient(line: Table, part: str | None) -> Ingredient:
    name = line.text("name")
    density = line.value("density", 0.0, _density, kinds.DENSITY.allowed) or density_of(name)
    nitrite, nitrate = line.fraction("nitrite", 0.0), line.fraction("nitrate", 0.0)
    role = line.one_of("role", ROLES, "cure" if nitrite or nitrate else _usual_role(name))
    written = line.text("amount")
    amount, basis = _amount(line, written, part, density)
    allergens = line.texts("allergens")
    line.done()
    if (role == "cure" or LOOKS_LIKE_CURE.search(name)) and not (nitrite or nitrate):
        raise line.refuse("nitrite", "the share of nitrite printed on the cure's label, such as 6.25 %")
    return Ingredient(name, amount, basis, role, density, nitrite, nitrate, allergens, written)


def _amount(line: Table, written: str, part: str | None, density: float | None) -> tuple[float, str]:
    """The amount and its basis: kilograms, or a share of the meat or of the water."""
    share, parts = SHARE.fullmatch(written), PARTS.fullmatch(written)
    try:
        if share:
            return units.parse_fraction(share["share"]), f"of {share['what'].lower()}"
        if parts:
            count = units.parse_fraction(parts["count"])
            return count * _kg(line, part or "1 kg", density), "kg"
        return _kg(line, written, density), "kg"
    except QuantityError:
        raise line.refuse("amount", AMOUNT_ALLOWED) from None


def _kg(line: Table, text: str, density: float | None) -> float:
    """Kilograms of a mass, or of a volume through the ingredient's density."""
    _, unit = units.amount_and_unit(text)
    if not units.is_unit_of(kinds.VOLUME, unit):
        return units.parse_mass_kg(text)
    if density is None:
        raise line.refuse(
            "density", "the ingredient's density such as 217 g/cup, for it is measured by volume"
        )
    return units.parse_volume_l(text) * density


def _mixes_parts(found: tuple[Ingredient, ...]) -> bool:
    by_amount = [i for i in found if i.basis == "kg"]
    in_parts = [i for i in by_amount if PARTS.fullmatch(i.as_written)]
    return bool(in_parts) and len(in_parts) < len(by_amount)


def _usual_role(name: str) -> str:
    lowered = name.lower()
    if "salt" in lowered.split() or lowered == "sea salt":
        return "salt"
    if "sugar" in lowered or lowered in {"honey", "molasses", "maple syrup"}:
        return "sugar"
    return "water" if lowered.split()[-1] in {"water", "ice"} else "other"


def _density(raw: object) -> float:
    if not isinstance(raw, str):
        raise TypeError(raw)
    return units.parse_density_kg_l(raw)
