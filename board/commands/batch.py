"""`board batch`: a brine, cure, rub or glaze scaled to the meat."""

import json
from collections.abc import Iterator
from dataclasses import asdict
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import click

from board.batches.card import BatchCard, batch_card
from board.batches.limits import Method, Product, places
from board.batches.rounding import Shown
from board.batches.served import cuts_taking
from board.batches.spread import in_hours_or_days
from board.errors import BoardError, QuantityError
from board.house.calendar import local, zone
from board.house.files import read_house
from board.house.model import House, Recipe, RecipeKind
from board.house.seeds import seed_house
from board.house.units import format_mass, format_temperature, format_volume, parse_fraction, parse_mass_kg
from board.house.wording import clock_time, duration, short_day
from board.safety.cautions import cautions

DEMO_HOUSE = "tallow_row"
MOST_PICKUP = 0.6


@click.command()
@click.argument("recipe")
@click.argument("house", required=False, type=click.Path(path_type=Path))
@click.option("--for", "meat", required=True, metavar="MASS", help="Raw meat it serves, such as '14 lb'.")
@click.option("--pickup", metavar="PERCENT", help="What stays in the meat, per cent of its raw mass.")
@click.option(
    "--made-at",
    metavar="TIME",
    help="When it was or will be made: 04:30 (the nearest past), or 2026-12-09T04:30.",
)
@click.option(
    "--product",
    type=click.Choice([p.value for p in Product]),
    help="What the nitrite limit is read for; by the recipe or the cut if left out.",
)
@click.option(
    "--limits", type=click.Choice(places()), help="Whose limits of nitrite; the house's own if left out."
)
@click.option("--json", "as_json", is_flag=True, help="Print one JSON document and nothing else.")
def command(
    *,
    recipe: str,
    house: Path | None,
    meat: str,
    pickup: str | None,
    made_at: str | None,
    product: str | None,
    limits: str | None,
    as_json: bool,
) -> int:
    """Scale RECIPE of HOUSE to the meat it serves.

    HOUSE is a folder of house files; without one, the recipes of the demo house serve. Ends with 1
    when the nitrite is over the limit read.
    """
    place = read_house(house or seed_house(DEMO_HOUSE))
    card = batch_card(
        place,
        _recipe(place, recipe),
        parse_mass_kg(meat),
        pickup=None if pickup is None else _pickup(pickup),
        made_at=None if made_at is None else _moment(made_at, place),
        product=None if product is None else Product(product),
        place=limits,
    )
    warnings = card.warnings + tuple(dict.fromkeys(_cautions(place, card)))
    if as_json:
        click.echo(json.dumps(_document(card, place, warnings), indent=2, ensure_ascii=False))
    else:
        click.echo("\n".join(_lines(card, place, warnings)))
    return int(card.meat is not None and card.meat.over)


def _recipe(house: House, name: str) -> Recipe:
    if name in house.recipes:
        return house.recipes[name]
    known = ", ".join(sorted(house.recipes)) or "none"
    raise BoardError(f"recipe {name!r} is not known in {house.name}; its recipes are {known}")


def _pickup(text: str) -> float:
    """A fraction from `8`, `8 %` or `8%`: the option counts per cent.

    A bare 0.08 is refused: it may be meant as a fraction, and a dose hangs on it.
    """
    bare = text.strip().removesuffix("%")
    try:
        pickup = parse_fraction(f"{bare} %")
    except QuantityError:
        pickup = -1.0
    looks_like_fraction = 0 < pickup < 0.01 and bare == text.strip()
    if looks_like_fraction or not 0 <= pickup <= MOST_PICKUP:
        raise QuantityError(
            f"--pickup: found {text!r}, allowed 0 to {100 * MOST_PICKUP:g} per cent, such as 8"
        )
    return pickup


def _moment(text: str, house: House) -> datetime:
    """The moment (UTC) a typed time means on the house's clock."""
    from board.ledger.when import moment_meant  # noqa: PLC0415 - loads the database, rarely needed

    return moment_meant(text, zone(house), datetime.now(UTC))


def _cautions(house: House, card: BatchCard) -> Iterator[str]:
    """The cautions that this batch calls for."""
    if card.meat and card.meat.nitrite_ppm > 0:
        yield from cautions("cure")
    if card.meat and card.meat.method is Method.PUMPED:
        yield from cautions("injected")
    if card.brine:
        yield from cautions("brine")
        if card.batch.recipe.ready_after_minutes > 0:
            yield from cautions("cooling")
    takers = cuts_taking(house, card.batch.recipe)
    if card.batch.recipe.kind is not RecipeKind.GLAZE and any(c.handling == "poultry" for c in takers):
        yield from cautions("poultry")


def _document(card: BatchCard, house: House, warnings: tuple[str, ...]) -> dict[str, Any]:
    batch, recipe = card.batch, card.batch.recipe
    return {
        "recipe": recipe.id,
        "kind": recipe.kind.value,
        "meat_kg": _figure(batch.meat_kg),
        "batch_kg": _figure(batch.batch_kg),
        "batch_litres": _figure(batch.litres),
        "ingredients": [
            {
                "name": line.name,
                "grams": _figure(line.grams),
                "amount": line.shown.amount,
                "unit": line.shown.unit,
                "about": line.volume and {"amount": line.volume.amount, "unit": line.volume.unit},
            }
            for line in batch.ingredients
        ],
        "brine": card.brine and {key: _figure(value) for key, value in asdict(card.brine).items()},
        "meat": _meat_document(card),
        "spread": _spread_document(card),
        "made_at": _iso(card.made_at, house),
        "ready_from": _iso(card.ready_from, house),
        "use_by": _iso(card.use_by, house),
        "ready_after_minutes": recipe.ready_after_minutes,
        "keeps_minutes": recipe.keeps_minutes,
        "allergens": list(batch.allergens),
        "warnings": list(warnings),
    }


def _meat_document(card: BatchCard) -> dict[str, Any] | None:
    if card.meat is None:
        return None
    return {
        "method": card.meat.method.value,
        "pickup_percent": _figure(card.meat.pickup_percent),
        "salt_percent": _figure(card.meat.salt_percent),
        "sugar_percent": _figure(card.meat.sugar_percent),
        "nitrite_ppm": _figure(card.meat.nitrite_ppm),
        "rule": card.meat.judgement.rule,
        "verdict": card.meat.judgement.verdict,
    }


def _spread_document(card: BatchCard) -> dict[str, Any] | None:
    if card.spread is None:
        return None
    return {
        "hours_to_90_percent": round(card.spread.hours_to_90_percent, 1),
        "depth_mm": round(card.spread.depth_mm, 1),
        "hours_low": round(card.spread.hours_low, 1),
        "hours_high": round(card.spread.hours_high, 1),
        "how": card.spread.how,
    }


def _figure(value: float | None) -> float | None:
    """A number to six decimals: more than any scale, fewer than a float's noise."""
    return None if value is None else round(value, 6)


def _iso(moment: datetime | None, house: House) -> str | None:
    return None if moment is None else local(moment, house).isoformat()


def _lines(card: BatchCard, house: House, warnings: tuple[str, ...]) -> Iterator[str]:
    batch, display = card.batch, house.display
    volume = "" if batch.litres is None else f", about {format_volume(batch.litres, display)}"
    yield f"{batch.recipe.name} for {format_mass(batch.meat_kg, display)} of raw meat"
    yield f"Makes {format_mass(batch.batch_kg, display)}{volume}."
    yield ""
    yield "Weigh"
    widest = max(len(line.name) for line in batch.ingredients)
    for line in batch.ingredients:
        about = f"   about {_amount(line.volume)}" if line.volume else ""
        yield f"  {line.name:<{widest}}  {_amount(line.shown):>9}{about}".rstrip()
    yield from (f"  {note}" for note in batch.recipe.notes)
    yield ""
    yield from _strength_lines(card, house)
    yield from _meat_lines(card)
    yield from _time_lines(card, house)
    if batch.allergens:
        yield f"Contains {', '.join(batch.allergens)}."
    if warnings:
        yield ""
        yield "Mind"
        yield from (f"  {warning}" for warning in warnings)


def _amount(shown: Shown) -> str:
    return f"{shown.amount:g} {shown.unit}"


def _strength_lines(card: BatchCard, house: House) -> Iterator[str]:
    if card.brine is None:
        return
    found = card.brine
    yield (
        f"The brine is {found.salt_percent:.1f} % salt and {found.sugar_percent:.1f} % sugar by mass, "
        f"{found.density_kg_l:.3f} kg/L."
    )
    reads = found.salometer_reads_deg
    sweet = (
        ""
        if reads is None or found.sugar_percent == 0
        else f"; one dipped in it reads {reads:.0f}°, for the sugar"
    )
    yield f"Salometer {found.salometer_deg:.0f}° by its salt{sweet}."
    if found.freezes_c is not None:
        yield f"It freezes from {format_temperature(found.freezes_c, house.display)} down."


def _meat_lines(card: BatchCard) -> Iterator[str]:
    meat = card.meat
    if meat is None:
        return
    yield (
        f"In the meat ({meat.method}): {meat.pickup_percent:.1f} % of its raw mass stays, which leaves "
        f"{meat.salt_percent:.2f} % salt and {meat.sugar_percent:.2f} % sugar."
    )
    if meat.nitrite_ppm > 0:
        yield f"Nitrite {meat.nitrite_ppm:.0f} ppm: {meat.judgement.verdict} ({meat.judgement.rule})."
    else:
        yield f"{meat.judgement.verdict.capitalize()}."
    if card.spread:
        spread = card.spread
        yield (
            f"The middle has 90 % of the salt after about {in_hours_or_days(spread.hours_to_90_percent)} "
            f"({in_hours_or_days(spread.hours_low)} to {in_hours_or_days(spread.hours_high)}): "
            f"{spread.depth_mm:.3g} mm {spread.how}."
        )


def _time_lines(card: BatchCard, house: House) -> Iterator[str]:
    recipe = card.batch.recipe
    if card.ready_from is None or card.use_by is None or card.made_at is None:
        ready = (
            f"ready {duration(recipe.ready_after_minutes)} after"
            if recipe.ready_after_minutes
            else "ready at once"
        )
        yield f"Once made it is {ready} and keeps {duration(recipe.keeps_minutes)} from its making."
        return
    made, ready, use_by = (
        f"{short_day(local(moment, house).date())} {clock_time(moment, house)}"
        for moment in (card.made_at, card.ready_from, card.use_by)
    )
    yield f"Made {made}, ready from {ready}, use by {use_by}."
