"""The options of `board batch`, and what they make of a recipe."""

import json
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

import click

from board.batches.card import BatchCard, batch_card
from board.batches.limits import Product, places
from board.commands.batch.document import document
from board.commands.batch.minded import minded
from board.commands.batch.told import told
from board.errors import BoardError, QuantityError
from board.house.calendar import zone
from board.house.files import read_house
from board.house.model import Container, Cut, House, Recipe
from board.house.seeds import seed_house
from board.house.units import parse_fraction, parse_mass_kg, parse_minutes, parse_volume_l
from board.house.wording import nearest

DEMO_HOUSE = "tallow_row"
MOST_PICKUP = 0.6
MOST_PIECES = 100_000


@dataclass(frozen=True, slots=True)
class Asked:
    """What if the meat is ready after other hours than planned, and rests drained for so many more."""

    hours: float | None
    rest_hours: float


@click.command()
@click.argument("recipe")
@click.argument("house", required=False, type=click.Path(path_type=Path))
@click.option("--for", "meat", required=True, metavar="MASS", help="Raw meat it serves, such as '14 lb'.")
@click.option("--cut", "cut_name", metavar="CUT", help="Which cut it is; the thickest that takes the recipe.")
@click.option("--pieces", type=click.IntRange(1, MOST_PIECES), help="How many; by the cut's usual weight.")
@click.option("--pickup", metavar="PERCENT", help="What stays in the meat, per cent of its raw mass.")
@click.option(
    "--container",
    metavar="VOLUME",
    help="A cover brine fills this, with the meat in it; or a container of the house.",
)
@click.option("--with", "beside", multiple=True, metavar="RECIPE", help="Another recipe on the same meat.")
@click.option("--hours", metavar="TIME", help="Ready after so long instead: how uneven is the salt?")
@click.option("--rest", metavar="TIME", help="With --hours: so much longer, drained and cold.")
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
    cut_name: str | None,
    pieces: int | None,
    pickup: str | None,
    container: str | None,
    beside: tuple[str, ...],
    hours: str | None,
    rest: str | None,
    made_at: str | None,
    product: str | None,
    limits: str | None,
    as_json: bool,
) -> int:
    """Scale RECIPE of HOUSE to the meat it serves.

    HOUSE is a folder of house files; without one, the recipes of the demo house serve. Ends with 1
    when nitrite or nitrate is over the limit read.
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
        cut=None if cut_name is None else _cut(place, cut_name),
        pieces=pieces,
        container=None if container is None else _container(place, container),
        beside=[_recipe(place, name) for name in beside],
    )
    asked = Asked(_hours(hours, "--hours"), _hours(rest, "--rest") or 0.0)
    _check_asked(card, asked)
    _print(card, place, asked, as_json)
    return int(bool(card.refused) or (card.together is not None and card.together.over))


def _print(card: BatchCard, house: House, asked: Asked, as_json: bool) -> None:
    mind = minded(card, house)
    if as_json:
        answer = document(card, house, mind, asked.hours, asked.rest_hours)
        click.echo(json.dumps(answer, indent=2, ensure_ascii=False))
    else:
        click.echo("\n".join(told(card, house, mind, asked.hours, asked.rest_hours)))


def _recipe(house: House, name: str) -> Recipe:
    if name in house.recipes:
        return house.recipes[name]
    known = ", ".join(sorted(house.recipes)) or "none"
    raise BoardError(f"recipe {name!r} is not known in {house.name}; its recipes are {known}")


def _cut(house: House, name: str) -> Cut:
    if name in house.cuts:
        return house.cuts[name]
    raise BoardError(f"--cut: found {name!r}, allowed a cut such as {nearest(name, sorted(house.cuts))}")


def _container(house: House, text: str) -> Container | float:
    """A container of the house by its id, or litres."""
    return house.containers[text] if text in house.containers else parse_volume_l(text)


def _hours(text: str | None, option: str) -> float | None:
    """Hours from a time with its unit, or from a bare number, which counts them."""
    if text is None:
        return None
    try:
        is_bare = text.strip().replace(".", "", 1).isdecimal()
        return parse_minutes(f"{text} h" if is_bare else text) / 60
    except QuantityError as error:
        raise QuantityError(f"{option}: {error}") from None


def _check_asked(card: BatchCard, asked: Asked) -> None:
    if asked.rest_hours and asked.hours is None:
        raise BoardError("--rest comes after --hours, such as --hours '36 h' --rest '1 day'")
    if asked.hours is not None and card.spread is None:
        raise BoardError(
            f"--hours: nothing of {card.batch.recipe.name} is known to spread into the meat; "
            "allowed for a brine or a cure, with --cut where no cut takes it"
        )


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
