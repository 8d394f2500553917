"""How good a plan is, in words: how near the best possible, how sure each service, and what it costs."""

import math
from collections.abc import Iterator

from board.house.model import House
from board.house.wording import clock_time, count
from board.planning.plan import Plan, Risk
from board.planning.weights import in_money
from board.views import names
from board.views.text import inert

# A plan as cheap as its bound to this share of its cost is the best there is.
PROVED_TO = 1e-6

# What each part of a cost is called, and the keys of `[weigh]` by which a house puts it in money; fuel and
# wages always are.
_PARTS: tuple[tuple[str, str, tuple[str, ...] | None], ...] = (
    ("unserved", "portions not cooked", ("lost_portion",)),
    ("late", "portions late", ("late_portion", "late_minute")),
    ("thin", "less sure than wanted", ()),
    ("held", "held too long", ("held_hour",)),
    ("fuel", "fuel", None),
    ("tending", "watching fires", None),
    ("work", "hands at the pits", None),
    ("fires", "lighting and changing setpoints", ("lighting", "change_over")),
    ("moved", "moved from the committed plan", ("moved_load",)),
)

_SHORTER = {
    "unserved": "not cooked",
    "thin": "unsure",
    "held": "held long",
    "tending": "watching",
    "work": "hands",
    "fires": "lighting",
}


def nearness(plan: Plan) -> str:
    """How near a plan is to the best there can be; nothing where there is no plan."""
    if not plan.loads:
        return ""
    return "proved best" if plan.result == "proved" else near(plan.cost, plan.bound)


def near(cost: float, bound: float) -> str:
    """How near a cost is to the best possible: the gap rounded up, so that it never promises too much."""
    if bound <= 0 < cost:
        return "how far from the best possible is not known"
    gap = (cost - bound) / max(cost, 1e-9)
    if gap <= PROVED_TO:
        return "proved best"
    return f"within {math.ceil(100 * gap - 1e-6)} % of the best possible"


def how_far(cost: float, bound: float) -> str:
    """How far a search still is from the best possible, to a tenth of a percent rounded up."""
    if bound <= 0 < cost:
        return near(cost, bound)
    gap = (cost - bound) / max(cost, 1e-9)
    return (
        "proved best" if gap <= PROVED_TO else f"{math.ceil(1000 * gap - 1e-6) / 10} % from the best possible"
    )


def surety(plan: Plan) -> str:
    """The least sure service, or the least sure load where a plan tells nothing of its services."""
    if not plan.loads:
        return ""
    if not plan.risks:
        return f"least sure load {round(100 * min(load.chance for load in plan.loads))} %"
    risk = min(plan.risks, key=lambda r: r.chance - r.wanted)
    return f"least sure {occasion_name(plan, risk.service)}, {hundred(risk.chance)} %"


def chances(plan: Plan, house: House) -> Iterator[str]:
    """Each service's chance against what it wants, the first served first."""
    for risk in plan.risks:
        yield _chance(plan, house, risk)


def unsure(plan: Plan) -> Iterator[str]:
    """The services that fall below the chance they want."""
    for risk in plan.risks:
        if risk.unsure:
            yield how_unsure(plan, risk)


def how_unsure(plan: Plan, risk: Risk) -> str:
    """By how much a service falls below the chance it wants."""
    name, wanted = occasion_name(plan, risk.service), hundred(risk.wanted)
    return f"{name}: in time {hundred(risk.chance)} times in 100, {wanted} wanted"


def _chance(plan: Plan, house: House, risk: Risk) -> str:
    name = f"{occasion_name(plan, risk.service)} at {clock_time(risk.at, house)}"
    wanted = f"{hundred(risk.wanted)} wanted"
    if not risk.unsure:
        return f"{name}: all of it in time {hundred(risk.chance)} times in 100, {wanted}{_late(risk)}"
    least = min(risk.items, key=lambda item: risk.items[item], default="")
    item = f", least sure is {names.item_name(house, least)}" if len(risk.items) > 1 else ""
    return f"{name}: all of it in time only {hundred(risk.chance)} times in 100, {wanted}{item}{_late(risk)}"


def _late(risk: Risk) -> str:
    """Portions to be expected late, where half a portion or more is."""
    late = round(risk.late_portions)
    return f"; in the mean {count(late, 'portion')} late" if late else ""


def hundred(chance: float) -> str:
    """A chance in so many of a hundred, as it is told."""
    # 99.6 is not 100: nothing cooked is certain
    return f"{min(99, round(100 * chance))}"


def costs(plan: Plan, house: House) -> Iterator[str]:
    """What a plan costs part by part: in money what the house weighs in money, the rest in points."""
    told = [(called, getattr(plan.costs, name), keys) for name, called, keys in _PARTS]
    money = [f"{called} {in_money(p)}" for called, p, keys in told if p and _weighed(house, keys)]
    points = [f"{called} {p:,.0f}" for called, p, keys in told if p and not _weighed(house, keys)]
    if money:
        yield f"in money: {', '.join(money)}"
    if points:
        yield f"in points, a hundred weighed like one in money: {', '.join(points)}"


def part_word(part: str) -> str:
    """The same in a word or two, for where there is little room."""
    return _SHORTER.get(part, part)


def part_name(part: str) -> str:
    """What a part of a plan's cost is called."""
    return next((called for name, called, _ in _PARTS if name == part), part)


def _weighed(house: House, keys: tuple[str, ...] | None) -> bool:
    return keys is None or (bool(keys) and all(key in house.weighing for key in keys))


def occasion_name(plan: Plan, service: str) -> str:
    """What a service or an order is called."""
    return next((inert(o.name) for o in plan.occasions if o.id == service), inert(service))
