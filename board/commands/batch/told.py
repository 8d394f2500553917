"""A batch in sentences: what to weigh, how strong, what stays in the meat, when, and what to mind."""

from collections.abc import Iterator

from board.batches.card import BatchCard
from board.batches.limits import edition
from board.batches.nitrite import fresh
from board.batches.rounding import Shown
from board.batches.spread_words import instead_says, spread_says
from board.commands.batch.minded import chilling_says, cooking_says
from board.house.calendar import local
from board.house.model import Display, House
from board.house.units import format_mass, format_temperature, format_volume
from board.house.wording import clock_time, count, duration, in_list, short_day


def told(
    card: BatchCard, house: House, mind: tuple[str, ...], hours: float | None, rest_hours: float
) -> Iterator[str]:
    """The whole answer, line by line; `hours` and `rest_hours` are the what-if's."""
    batch, display = card.batch, house.display
    makes = format_mass(batch.batch_kg, display)
    if batch.litres is not None:
        makes += f", about {format_volume(batch.litres, display)}"
    yield f"{batch.recipe.name} for {format_mass(batch.meat_kg, display)} of raw meat{_pieces(card)}"
    yield f"Makes {makes}; weighed as below it comes to {batch.shown_kg:.6g} kg."
    yield ""
    yield "Weigh"
    widest = max(len(line.name) for line in batch.ingredients)
    for line in batch.ingredients:
        about = f"   about {_amount(line.volume)}" if line.volume else ""
        yield f"  {line.name:<{widest}}  {_amount(line.shown):>9}{about}".rstrip()
    yield from (f"  {note}" for note in batch.recipe.notes)
    yield ""
    yield from _strength_lines(card, house)
    yield from _meat_lines(card, display)
    yield from _spread_lines(card, hours, rest_hours)
    if cooking := cooking_says(card, house):
        yield cooking
    if cools := chilling_says(card, house):
        yield cools
    yield from _time_lines(card, house)
    yield from _allergen_lines(card)
    if mind:
        yield ""
        yield "Mind"
        yield from (f"  {warning[:1].upper()}{warning[1:]}" for warning in mind)


def _pieces(card: BatchCard) -> str:
    served = card.meat_of
    if served.cut is None:
        return ""
    whole = round(served.pieces)
    if abs(served.pieces - whole) < 0.005 and whole:
        return f": {count(whole, 'piece')} of {served.cut.name}"
    return f": {served.cut.name}"


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


def _meat_lines(card: BatchCard, display: Display) -> Iterator[str]:
    meat, served = card.meat, card.meat_of
    if meat is None:
        yield "It stays on the outside, and counts neither as salt nor as sugar in the meat."
        return
    if card.ml_a_piece is not None and served.cut:
        each = format_mass(served.piece_kg, display)
        yield f"Inject about {_figures(card.ml_a_piece)} mL into each {each} piece."
    yield (
        f"In the meat ({meat.method}): {meat.pickup_percent:.1f} % of its raw mass stays, which leaves "
        f"{meat.salt_percent:.2f} % salt and {meat.sugar_percent:.2f} % sugar."
    )
    if card.together:
        given = in_list(list(card.together.recipes))
        yield (
            f"With all it is given ({given}): {card.together.salt_percent:.2f} % "
            f"salt and {card.together.sugar_percent:.2f} % sugar."
        )
    yield from _nitrite_lines(card)


def _nitrite_lines(card: BatchCard) -> Iterator[str]:
    meat = card.meat
    if meat is None:
        return
    if meat.nitrite_ppm > 0:
        yield f"Nitrite {meat.nitrite_ppm:.0f} ppm: {meat.judgement.verdict} ({meat.judgement.rule})."
    elif card.together is None or card.together.nitrite_ppm <= 0:
        cut = card.meat_of.cut
        yield f"{fresh(cut.animal if cut else 'meat').capitalize()}."
    if meat.nitrate:
        yield f"Nitrate {meat.nitrate_ppm:.0f} ppm: {meat.nitrate.verdict} ({meat.nitrate.rule})."
    found = card.together
    if found and found.nitrite_ppm > meat.nitrite_ppm:
        yield f"Nitrite of all of them {found.nitrite_ppm:.0f} ppm: {found.judgement.verdict}."
    if found and found.nitrate and found.nitrate_ppm > meat.nitrate_ppm:
        yield f"Nitrate of all of them {found.nitrate_ppm:.0f} ppm: {found.nitrate.verdict}."
    read = edition(card.code)
    if read and (meat.nitrite_ppm > 0 or meat.nitrate):
        yield f"Limits: {read['edition']}; read {read['read_on']}."
        yield "The licensed person and the local code decide."


def _figures(millilitres: float) -> str:
    """Millilitres as a syringe is read: to 10 from 100 on, to 5 below."""
    step = 10 if millilitres >= 100 else 5 if millilitres >= 20 else 1
    return f"{round(millilitres / step) * step:g}"


def _spread_lines(card: BatchCard, hours: float | None, rest_hours: float) -> Iterator[str]:
    if card.spread is None:
        return
    if hours is not None:
        yield from instead_says(card.spread, hours, rest_hours)
    else:
        yield from spread_says(card.spread)


def _allergen_lines(card: BatchCard) -> Iterator[str]:
    if card.batch.allergens:
        yield f"Contains {', '.join(card.batch.allergens)}."
    if card.hints:
        held = in_list([f"{hint.ingredient} ({', '.join(hint.names)})" for hint in card.hints])
        yield f"Usually also holds, by its ingredients: {held}. Read the label of the pack in hand."


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
