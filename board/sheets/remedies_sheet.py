"""What would help the loads in trouble, or one load, as plain text or as a document for other programs."""

from collections.abc import Callable, Sequence
from datetime import datetime
from typing import Any

from board.errors import LedgerError
from board.house.calendar import with_offset
from board.house.model import House
from board.house.spans import TimeSpan
from board.house.wording import short_day
from board.ledger.open import Ledger
from board.planning.plan import Plan, PlannedLoad
from board.planning.remedies.remedy import Advice, Remedy
from board.sheets.page import WIDTH, block, heading, page, sentences
from board.views import names
from board.views.facts import Facts, all_loads
from board.views.gather import gather
from board.views.remedies import WORD, remedies
from board.views.remedies_tables import left_out_table, remedies_table
from board.views.remedying import advice_for, in_trouble
from board.views.revising import is_cooking, revised
from board.views.text import inert

Advised = Sequence[tuple[Plan, PlannedLoad, Advice | None]]
Ask = Callable[[Facts, str | None], Advised]


def ask(facts: Facts, load: str | None) -> Advised:
    """The advice on one load by its id, or on every load in trouble.

    Raises:
        LedgerError: that load is on no pit.
    """
    known = revised(facts)
    cooking = [pair for pair in all_loads(facts) if is_cooking(facts, *pair)]
    pairs = list(in_trouble(facts, known)) if load is None else [p for p in cooking if p[1].id == load]
    if load is not None and not pairs:
        on = ", ".join(one.id for _, one in cooking) or "none"
        raise LedgerError(f"{load} is on no pit now; the loads that are: {on}")
    return [(plan, one, advice_for(facts, plan, one, known)) for plan, one in pairs]


def remedies_sheet(
    ledger: Ledger, house: House, load: str | None, now: datetime, *, width: int = WIDTH, asking: Ask = ask
) -> str:
    """What helps a load by its id, or each load in trouble, best first."""
    facts = gather(ledger, house, now)
    title = f"{inert(house.name)}  {short_day(facts.today)}  {names.clock(house, now)}"
    found = asking(facts, load)
    if not found:
        return page(heading(title, "", width), ["Every load on a pit is likely in time."])
    parts = [part for plan, one, advice in found for part in _parts(facts, plan, one, advice, width=width)]
    return page(heading(title, "", width), *parts, sentences([WORD], width))


def _parts(
    facts: Facts, plan: Plan, load: PlannedLoad, advice: Advice | None, *, width: int
) -> tuple[list[str], ...]:
    if advice is None:
        return ([f"{names.pieces(facts.house, load)}: cannot be estimated."],)
    view = remedies(facts, plan, load, advice)
    table = [*sentences([view.heading], width), *block(remedies_table(view), width)]
    return table, block(left_out_table(view), width) if view.left_out else []


def remedies_document(
    ledger: Ledger, house: House, load: str | None, now: datetime, *, asking: Ask = ask
) -> dict[str, Any]:
    """The same as data: times with the house's offset, temperatures in °C."""
    facts = gather(ledger, house, now)
    return {
        "now": with_offset(now, facts.house),
        "loads": [
            {
                "load": one.id,
                "day": plan.day.isoformat(),
                "needed_at": with_offset(one.needed_at, facts.house),
                "early": advice.is_early,
                "nothing": _remedy(facts, advice.nothing),
                "remedies": [_remedy(facts, remedy) for remedy in advice.remedies],
                "left_out": [
                    {"kind": out.kind.value, "why": out.reason.value, "about": out.about or None}
                    for out in advice.left_out
                ],
            }
            for plan, one, advice in asking(facts, load)
            if advice is not None
        ],
    }


def _remedy(facts: Facts, one: Remedy) -> dict[str, Any]:
    action = one.action
    return {
        "kind": action.kind.value,
        "pit": action.pit or None,
        "zone": action.zone,
        "setpoint_c": action.setpoint_c,
        "core_c": action.core_c,
        "hold": action.hold or None,
        "other_load": action.other or None,
        "must_be_lit": action.is_unlit,
        "ready_at": _span(facts, one.ready),
        "chance": round(one.chance, 3),
        "costs": [
            {
                "kind": cost.kind.value,
                "minutes": round(cost.minutes, 1) or None,
                "portions": cost.portions or None,
                "celsius": cost.celsius,
                "load": cost.load or None,
            }
            for cost in one.costs
        ],
    }


def _span(facts: Facts, span: TimeSpan) -> dict[str, str]:
    return {
        "p10": with_offset(span.p10, facts.house),
        "p50": with_offset(span.p50, facts.house),
        "p90": with_offset(span.p90, facts.house),
    }
