"""Doubts about a house: things its files may say, and a pitmaster would ask about."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from difflib import get_close_matches
from pathlib import Path

from board.house.allergens import allergen_names
from board.house.calendar import local, on_shift, services_on
from board.house.check_batches import doubtful_batches
from board.house.check_cooks import doubtful_cooks
from board.house.files import NIGHT
from board.house.folder import NEEDED, OPTIONAL
from board.house.library import library_cuts, practice_hours
from board.house.model import Cut, House, RecipeKind
from board.house.units import format_temperature
from board.house.wording import clock_time, count, duration, in_list, short_day

LOOK_AHEAD_DAYS = 14
SHORTEST_GAP = timedelta(minutes=60)


@dataclass(frozen=True, slots=True)
class Doubt:
    """One thing to ask about: where it stands, and a sentence that says what and why."""

    where: str
    text: str

    def __str__(self) -> str:
        return f"{self.where}: {self.text}"


def doubts(house: House, day: date) -> list[Doubt]:
    """What a pitmaster would ask about this house, safety first; shifts for two weeks from `day`."""
    found = [pair for check in SAFETY for pair in check(house)]
    found += doubtful_batches(house)
    found += _nobody_at_the_fire(house, day)
    found += [pair for check in WORK for pair in check(house)]
    found += doubtful_cooks(house, day)
    return [Doubt(where, text) for where, text in found]


def stray_files(folder: Path) -> list[Doubt]:
    """A doubt for each TOML or CSV file in a house's folder that no one reads."""
    known = (*NEEDED, *OPTIONAL)
    found = []
    for path in sorted(folder.iterdir()):
        if path.suffix.lower() in {".toml", ".csv"} and path.name not in (*known, NIGHT):
            near = get_close_matches(path.name, known, n=1, cutoff=0.6)
            hint = f"did you mean {near[0]}?" if near else f"house files are {', '.join(known)}"
            found.append(Doubt(path.name, f"not read; {hint}"))
    return found


def summary(house: House) -> str:
    """One line on a house that raises no doubt."""
    parts = (
        (len(house.pits), "pit"),
        (len(house.items), "item"),
        (len(house.recipes), "recipe"),
        (len(house.people), "person"),
        (len(house.services), "service"),
        (len(house.orders), "order"),
    )
    return f"{house.name}: {', '.join(count(n, name) for n, name in parts)}; nothing wrong, nothing doubtful."


def used_cuts(house: House) -> list[Cut]:
    """The cuts that items or orders ask for, each once."""
    ids = [item.cut for item in house.items.values()]
    ids += [line.cut for order in house.orders for line in order.lines if line.cut]
    return [house.cuts[id] for id in dict.fromkeys(ids)]


Found = Iterator[tuple[str, str]]


def _cures_without_nitrite(house: House) -> Found:
    for recipe in house.recipes.values():
        if recipe.kind is RecipeKind.CURE and not any(i.nitrite or i.nitrate for i in recipe.ingredients):
            yield f"recipes.toml, {recipe.id}", "a cure in which no ingredient states its nitrite"


def _allergens_of_no_list(house: House) -> Found:
    known = {*allergen_names("us"), *allergen_names("eu")}
    for recipe in house.recipes.values():
        named = {name for i in recipe.ingredients for name in i.allergens}
        if odd := sorted(named - known):
            yield (
                f"recipes.toml, {recipe.id}",
                f"{in_list(odd)} is on no list of allergens; they are called {', '.join(sorted(known))}",
            )


def _soaks_out_of_step(house: House) -> Found:
    for cut in used_cuts(house):
        for step in cut.prep:
            recipe = house.recipes[step.recipe] if step.recipe else None
            if recipe and recipe.immersed_minutes and recipe.immersed_minutes > step.gap_minutes[1]:
                yield (
                    f"cuts.toml, {cut.id}.prep, {step.what}",
                    f"{recipe.name} wants {duration(recipe.immersed_minutes)}, "
                    f"but the gap after it ends at {duration(step.gap_minutes[1])}",
                )


def _no_pit_for(house: House) -> Found:
    for cut in used_cuts(house):
        taking = [pit for pit in house.pits.values() if not pit.takes or cut.id in pit.takes]
        if not taking:
            yield "pits.toml", f"no pit takes {cut.id}"
        elif not any(p.setpoint_c[0] <= cut.pit_c.high and cut.pit_c.low <= p.setpoint_c[1] for p in taking):
            low, high = (format_temperature(c, house.display) for c in (cut.pit_c.low, cut.pit_c.high))
            yield f"cuts.toml, {cut.id}.pit", f"cooks at {low} to {high}, which no pit that takes it reaches"
        elif all(pit.area_m2 < cut.area_m2 for pit in taking):
            yield f"cuts.toml, {cut.id}.area", "one piece is larger than any pit that takes it"


def _wraps_too_late(house: House) -> Found:
    for cut in used_cuts(house):
        if cut.wrap is not None and cut.wrap.at_core_c >= cut.end_core_c:
            found, pull = (format_temperature(c, house.display) for c in (cut.wrap.at_core_c, cut.end_core_c))
            yield (
                f"cuts.toml, {cut.id}.wrap.at",
                f"wrapped at {found}, but pulled at {pull}: it would never be wrapped",
            )


def _nobody_at_the_fire(house: House, day: date) -> Found:
    if not house.people or not house.shifts:
        yield "crew.toml", "nobody is on any shift, so no step can be given to anyone"
        return
    asked: set[str] = set()
    for ahead in range(LOOK_AHEAD_DAYS):
        for service in services_on(house, day + timedelta(days=ahead)):
            if service.id in asked:
                continue
            start, cut = _earliest_load(house, service.promises, service.at)
            gap = _longest_gap(house, start, service.at) if cut else None
            if cut and gap and gap[1] - gap[0] >= SHORTEST_GAP:
                asked.add(service.id)
                when = f"{short_day(local(gap[0], house).date())} {clock_time(gap[0], house)}"
                yield (
                    "crew.toml",
                    f"nobody is on shift {when} to {clock_time(gap[1], house)}, "
                    f"while {cut.name} for {service.name} may be on the pit",
                )


def _nothing_promised(house: House) -> Found:
    for service in house.services.values():
        if not any(service.promises.values()):
            nothing = "nothing is promised at this service; write it here, or day by day on the board"
            yield f"services.toml, {service.id}.promises", nothing


def _nowhere_to_rest(house: House) -> Found:
    if not house.holds:
        yield "holds.toml", "no bench and no hot hold: nothing can rest or be kept"
    elif all(hold.setpoint_c is None for hold in house.holds.values()):
        yield "holds.toml", "no hot hold: everything must be served as soon as it has rested"


def _without_price(house: House) -> Found:
    for item in house.items.values():
        if item.price <= 0:
            yield f"items.toml, {item.id}.price", "no price, so a sell-out cannot be weighed against waste"


def _recipes_unused(house: House) -> Found:
    steps = [step for cut in house.cuts.values() for step in cut.prep]
    steps += [step for item in house.items.values() for step in item.finish]
    used = {step.recipe for step in steps}
    for id in house.recipes:
        if id not in used:
            yield f"recipes.toml, {id}", "no step of any cut or item uses it"


def _idle_hands(house: House) -> Found:
    working = {person for shift in house.shifts for person in shift.people}
    for shift in house.shifts:
        if not shift.people:
            yield f"crew.toml, shifts.{shift.id}.people", "a shift of nobody"
    if house.shifts and (idle := [p.name for p in house.people.values() if p.id not in working]):
        yield "crew.toml", f"on no shift: {in_list(idle)}"


def _sales_of_the_unknown(house: House) -> Found:
    items = sorted({sale.item for sale in house.sales} - house.items.keys())
    services = sorted({sale.service for sale in house.sales} - house.services.keys())
    if items:
        yield "sales.csv, item", f"not an item of items.toml: {in_list(items)}"
    if services:
        yield "sales.csv, service", f"not a service of services.toml: {in_list(services)}"


SAFETY: tuple[Callable[[House], Found], ...] = (
    _cures_without_nitrite,
    _allergens_of_no_list,
    _soaks_out_of_step,
)
WORK: tuple[Callable[[House], Found], ...] = (
    _wraps_too_late,
    _no_pit_for,
    _nothing_promised,
    _nowhere_to_rest,
    _without_price,
    _recipes_unused,
    _idle_hands,
    _sales_of_the_unknown,
)


def _earliest_load(house: House, promises: Mapping[str, int], at: datetime) -> tuple[datetime, Cut | None]:
    """When the longest cook for a service may be loaded by practice, and its cut."""
    earliest, first = at, None
    for item in promises:
        cut = house.cuts[house.items[item].cut]
        if cut.id in library_cuts():
            hours = practice_hours(cut.id, cut.pit_c.usual)[1]
            load = at - timedelta(hours=hours, minutes=cut.rest_minutes[0])
            if load < earliest:
                earliest, first = load, cut
    return earliest, first


def _longest_gap(house: House, start: datetime, end: datetime) -> tuple[datetime, datetime] | None:
    """The longest stretch between two moments with nobody on shift; None when there is none."""
    gaps, covered = [], start
    for _, begin, finish, _ in on_shift(house, start, end):
        if begin > covered:
            gaps.append((covered, begin))
        covered = max(covered, finish)
    if covered < end:
        gaps.append((covered, end))
    return max(gaps, key=lambda gap: gap[1] - gap[0], default=None)
