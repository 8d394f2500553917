"""What a plan is short of and what would cure it, each cure with its effect and whether it can be tried."""

from dataclasses import dataclass, replace

from board.planning.plan import Offer, Plan, Risk, Short
from board.planning.weights import in_money
from board.views import names
from board.views.facts import Facts
from board.views.guidance import Key
from board.views.promises import promises
from board.views.table import Column, Row, Table
from board.views.text import Cell, Tone, inert
from board.views.worth import how_unsure, hundred


@dataclass(frozen=True, slots=True)
class Lacking:
    """What a serving time lacks of an item, why, and the cures that can be tried or told."""

    says: str
    why: str
    portions: int
    service: str
    is_order: bool
    offers: tuple[Offer, ...]


def lackings(facts: Facts, plan: Plan) -> tuple[Lacking, ...]:
    """Everything a plan is short of, in its order; a smaller promise is always among the cures."""
    occasions = {occasion.id: occasion for occasion in plan.occasions}
    found = []
    for short in plan.short:
        occasion = occasions.get(short.service)
        name = inert(occasion.name if occasion else short.service)
        item = names.item_name(facts.house, short.item)
        says = f"{name}: {item} short {short.portions}"
        offers = _offers(short, occasion.promises.get(short.item, 0) if occasion else 0)
        is_order = occasion is not None and occasion.is_order
        found.append(Lacking(says, inert(short.why), short.portions, short.service, is_order, offers))
    return tuple(found)


def short_of(facts: Facts, plan: Plan, key: Key) -> str:
    """What is left to do where a plan itself is short of nothing: promises made since, doubtful services."""
    more = [one for one in promises(facts, plan) if one.portions > one.planned]
    if more:
        named = f"{more[0].service_name}: {more[0].planned} of {more[0].portions} {more[0].item_name}"
        others = f", and {len(more) - 1} more" if more[1:] else ""
        return f"promised since this was planned: {named}{others}; {key('plan')} plans with it"
    doubtful = [_why_unsure(facts, plan, risk) for risk in plan.risks if risk.unsure]
    if doubtful:
        helps = f"a later time or a smaller promise helps ({key('promises')}), or more room or hands"
        return f"not all is sure: {'; '.join(doubtful)}; {helps}"
    return ""


def _why_unsure(facts: Facts, plan: Plan, risk: Risk) -> str:
    """By how much a service falls short of its chance, and by which load most."""
    loads = [load for load in plan.loads if risk.service in load.services]
    if not loads:
        return how_unsure(plan, risk)
    least = min(loads, key=lambda load: (load.chance, load.id))
    pieces = names.pieces(facts.house, least)
    return f"{how_unsure(plan, risk)}, least sure {pieces}, {hundred(least.chance)} times in 100"


def _offers(short: Short, promised: int) -> tuple[Offer, ...]:
    """The cures told, those of a plan that tells only their words among them, and a smaller promise."""
    offers = [*(short.offers or (Offer(says, short.portions) for says in short.cure))]
    left = promised - short.portions
    less = ((short.service, short.item, max(0, left)),)
    if promised and all(offer.promises != less for offer in offers):
        says = f"promise {left} portions" if left > 0 else "promise none of it"
        offers.append(Offer(says, short.portions, promises=less))
    return tuple(replace(offer, says=inert(offer.says)) for offer in offers)


def can_try(lacking: Lacking, offer: Offer) -> bool:
    """Whether the board itself can make the change: of promises, or of the time of an order."""
    return bool(offer.promises) or (offer.due is not None and lacking.is_order)


def why_not(offer: Offer, key: Key) -> str:
    """What to do for a cure that the board cannot make by itself."""
    if offer.due is not None:
        return f"that puts the whole service later: {key('promises')}, then Tab on its line types the time"
    then = f"once it is so in the house's files, {key('plan')} plans with it"
    return f"“{offer.says}” is a change of the house: {then}"


def cures_table(found: tuple[Lacking, ...]) -> Table:
    """Each shortage with its reason, and under it its cures, which can be chosen: `+` the board can try."""
    rows = []
    for at, lacking in enumerate(found):
        says = (Cell("▲", Tone.LATE), Cell(lacking.says, Tone.LATE), Cell(""), Cell(""))
        rows.append(Row(f"{at}", says, (Cell(lacking.why, Tone.QUIET),)))
        rows += [_cure_row(f"{at}/{n}", lacking, offer) for n, offer in enumerate(lacking.offers)]
    columns = (
        Column(),
        Column(grow=True, note="short"),
        Column(right=True, note="covers"),
        Column(right=True, drop=1, note="cure-costs"),
    )
    return Table("", columns, tuple(rows), "", "Nothing is short.")


def _cure_row(key: str, lacking: Lacking, offer: Offer) -> Row:
    """A cure: how much of the shortage it covers, and what the plan then costs."""
    tried = can_try(lacking, offer)
    covers = "all" if offer.portions >= lacking.portions else f"{offer.portions} of {lacking.portions}"
    dearer = "dearer" if (offer.points or 0.0) >= 0 else "cheaper"
    costs = "" if offer.points is None else f"{in_money(abs(offer.points))} {dearer}"
    cells = (
        Cell("+" if tried else "·", Tone.GOOD if tried else Tone.QUIET),
        Cell(offer.says, Tone.STRONG if tried else Tone.PLAIN),
        Cell(covers),
        Cell(costs, Tone.QUIET),
    )
    return Row(key, cells)
