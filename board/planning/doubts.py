"""Doubts about what keeps people well in a house's files, by the rules of its jurisdiction."""

from collections.abc import Callable, Iterator
from datetime import date

from board.house.check import Doubt, doubts, used_cuts
from board.house.model import House, RecipeKind, StepRule
from board.house.units import format_mass, format_temperature
from board.house.wording import duration, in_list
from board.planning.birds import is_bird
from board.planning.cooked.foreseen import never_met
from board.planning.remedies.safe import cured_here_least_c
from board.safety.handling import handled, why_handled
from board.safety.limits import hot_hold_least_c
from board.safety.marinades import in_brine_most_minutes
from board.safety.tables import place_name, rules, who_decides
from board.safety.thawing import Way, thaw_minutes

Found = Iterator[tuple[str, str]]
_PARTS = {
    "holding": "holding",
    "cooling": "cooling",
    "reheating": "reheating",
    "thawing": "thawing",
    "time_control": "tempering",
    "date_marks": "date marks",
}


def every_doubt(house: House, day: date) -> list[Doubt]:
    """All that a pitmaster would ask about this house, safety first; shifts for two weeks from `day`."""
    return [*safety_doubts(house), *doubts(house, day)]


def safety_doubts(house: House) -> list[Doubt]:
    """What a careful cook or an inspector would ask; up to some tenths of a second."""
    return [Doubt(where, text) for check in CHECKS for where, text in check(house)]


def _handled_otherwise(house: House) -> Found:
    for cut in used_cuts(house):
        why = why_handled(cut, house.recipes)
        if why:
            handling = handled(cut, house.recipes).value
            yield f"cuts.toml, {cut.id}.handling", f'{why.rstrip(".")}; write handling = "{handling}"'


def _never_cooked(house: House) -> Found:
    for cut, says in never_met(house, used_cuts(house)):
        yield f"cuts.toml, {cut.id}.pull", says


def _cured_and_pulled_too_cool(house: House) -> Found:
    for cut in used_cuts(house):
        least = cured_here_least_c(house, cut)
        if least is not None and cut.end_core_c < least:
            found, asked = (format_temperature(c, house.display) for c in (cut.end_core_c, least))
            yield (
                f"cuts.toml, {cut.id}.pull",
                f"pulled at {found}, while meat that is cured in the house is cooked to {asked}",
            )


def _holds_too_cool(house: House) -> Found:
    least = hot_hold_least_c(place=house.jurisdiction)
    for hold in house.holds.values():
        if hold.setpoint_c is not None and hold.setpoint_c < least:
            found, asked = (format_temperature(c, house.display) for c in (hold.setpoint_c, least))
            yield (
                f"holds.toml, {hold.id}.setpoint",
                f"holds at {found}, while hot meat is kept at {asked} or above ({_place(house)})",
            )


def _waits_warm(house: House) -> Found:
    longest = float(rules(house.jurisdiction, "time_control").rows["most_minutes"])
    for cut in used_cuts(house):
        warm = [step for step in cut.prep if not step.chilled and step.gap_minutes[1] > 0]
        if sum(step.gap_minutes[1] for step in warm) > longest:
            yield (
                f"cuts.toml, {cut.id}.prep, {in_list([step.what for step in warm])}",
                f"raw meat may wait {duration(sum(step.gap_minutes[1] for step in warm))} out of the cooler; "
                f"at most {duration(longest)} in all is allowed, and only under a written procedure",
            )


def _thaws_too_soon(house: House) -> Found:
    for cut in used_cuts(house):
        time = thaw_minutes(cut.mass_kg.usual, Way.FRIDGE, place=house.jurisdiction)
        least, most = (duration(minutes) for minutes in (time.least_minutes, time.most_minutes))
        for step in cut.prep:
            if "thaw" in step.what.lower() and step.chilled and step.gap_minutes[0] < time.least_minutes:
                piece = format_mass(cut.mass_kg.usual, house.display)
                yield (
                    f"cuts.toml, {cut.id}.prep, {step.what}",
                    f"may go on after {duration(step.gap_minutes[0])}, while a piece of {piece} thaws in the "
                    f"cooler in {least} to {most}",
                )


def _brined_too_long(house: House) -> Found:
    for cut in used_cuts(house):
        longest = in_brine_most_minutes(poultry=is_bird(cut), place=house.jurisdiction)
        for step in cut.prep:
            if _is_plain_brine(house, step) and step.gap_minutes[1] > longest:
                yield (
                    f"cuts.toml, {cut.id}.prep, {step.what}",
                    f"may stay in the brine {duration(step.gap_minutes[1])}; without nitrite, "
                    f"{'poultry' if is_bird(cut) else 'red meat'} is kept in one {duration(longest)} at most",
                )


def _rules_borrowed(house: House) -> Found:
    """What the table of the house's place says nothing of."""
    place = house.jurisdiction
    found = [name for part, name in _PARTS.items() if rules(place, part).borrowed]
    handlings = dict.fromkeys(handled(cut, house.recipes).value for cut in used_cuts(house))
    found += [f"cooking {handling}" for handling in handlings if rules(place, "cooking", handling).borrowed]
    if found:
        yield (
            "house.toml, jurisdiction",
            f"the table of {_place(house)} prints no figure of its own for {in_list(found)}: "
            f"that of {place_name('us')} is taken. {who_decides(place)}",
        )


def _is_plain_brine(house: House, step: StepRule) -> bool:
    """Whether a step takes a brine; one with nitrite in it is a cure."""
    recipe = house.recipes.get(step.recipe or "")
    if recipe is None or recipe.kind is not RecipeKind.BRINE:
        return False
    return not any(ingredient.nitrite or ingredient.nitrate for ingredient in recipe.ingredients)


def _place(house: House) -> str:
    return place_name(house.jurisdiction)


CHECKS: tuple[Callable[[House], Found], ...] = (
    _handled_otherwise,
    _never_cooked,
    _cured_and_pulled_too_cool,
    _holds_too_cool,
    _waits_warm,
    _thaws_too_soon,
    _brined_too_long,
    _rules_borrowed,
)
