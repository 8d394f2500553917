"""What a line's own numbers say of how its figures came about, by note."""

from collections.abc import Mapping
from datetime import datetime

from board.house.spans import minutes_between
from board.house.units import format_mass
from board.house.wording import count, duration
from board.ledger.state import LoadStage, LoadState
from board.planning.plan import Plan, PlannedLoad
from board.views import names
from board.views.days import when
from board.views.facts import Facts, all_batches, batch_state, load_of, load_state, promised
from board.views.likely import likely_times
from board.views.opening import next_occasion
from board.views.progress import Progress, Revised, due_by
from board.views.reference import ref
from board.views.spots import spot

Numbers = Mapping[str, str]


def numbers(facts: Facts, revised: Revised | None, *, load: str, row: str) -> Numbers:
    """What is known of a line about a load (by its key), or that is an item or a batch itself (by `row`)."""
    found = load_of(facts, load) if load else None
    of_load = _of_load(facts, *found, likely_times(facts, *found, revised)) if found else {}
    return {**of_load, **_of_item(facts, row), **_of_batch(facts, row)}


def _of_load(facts: Facts, plan: Plan, load: PlannedLoad, likely: Progress) -> Numbers:
    house = facts.house
    state = load_state(facts, load, plan.day)
    p10, p50, p90 = (when(facts, at) for at in (likely.ready.p10, likely.ready.p50, likely.ready.p90))
    due = due_by(load)
    work = minutes_between(due, load.needed_at)
    served = [occasion.name for occasion in plan.occasions if occasion.id in load.services]
    spare = duration(abs(likely.spare_minutes))
    from_what = _from_what(facts, plan, load, state, likely)
    return {
        "core": _core(facts, plan, load, likely),
        "ready": f"{from_what}; half of such cooks are ready by {p50}.",
        "likely": f"1 in 10 is ready before {p10}, 9 in 10 by {p90}."
        if likely.ready.p10 < likely.ready.p90
        else f"it is known: {p50}.",
        "needed": f"{when(facts, load.needed_at)}, for {names.listed(served)}." if served else "",
        "spare": f"ready is due by {when(facts, due)}"
        + (f", {duration(work)} of work before {names.clock(house, load.needed_at)}" if work >= 1 else "")
        + f"; likely {p50}: {spare} {'late' if likely.spare_minutes < 0 else 'in hand'}.",
        "sure": f"{round(100 * load.chance)} of 100 such cooks were in time when it was planned.",
        "load": f"planned for {when(facts, load.load_at)}"
        + (f", on at {when(facts, state.on_at)}." if state.on_at else "."),
        "pieces": f"{names.pieces(house, load)}, {count(load.portions, 'portion')}.",
    }


def _from_what(facts: Facts, plan: Plan, load: PlannedLoad, state: LoadState, likely: Progress) -> str:
    """What the likely time rests on most: the pull, the last reading, when it went on, or the plan."""
    house = facts.house
    if state.pulled_at is not None:
        return f"off the pit at {when(facts, state.pulled_at)}, then its rest"
    if state.on_at is None:
        return f"the plan, on at {when(facts, load.load_at)}; nothing is marked yet"
    pit = facts.pits.get(state.pit or load.pit)
    asked = (
        f", {spot(facts, load, plan.day)} asked for {names.degrees(house, pit.setpoint_c)}"
        if (pit is not None and pit.setpoint_c is not None)
        else ""
    )
    read = _last_counted(facts, plan, load, likely)
    if read is None:
        return f"on at {when(facts, state.on_at)}{asked}; no core was read yet"
    at, celsius, _ = read
    return f"from the reading {names.degrees(house, celsius)} at {when(facts, at)}{asked}"


def _last_counted(
    facts: Facts, plan: Plan, load: PlannedLoad, likely: Progress
) -> tuple[datetime, float, str] | None:
    readings = [r for r in facts.readings.get((plan.day, load.id), ()) if r.seq not in likely.left_out]
    return (readings[-1].at, readings[-1].temperature_c, readings[-1].who) if readings else None


def _core(facts: Facts, plan: Plan, load: PlannedLoad, likely: Progress) -> str:
    read = _last_counted(facts, plan, load, likely)
    if read is None:
        return ""
    at, celsius, who = read
    all_read = len(facts.readings.get((plan.day, load.id), ()))
    left_out = f", {len(likely.left_out)} of them left out" if likely.left_out else ""
    cut = facts.house.cuts.get(load.cut)
    aim = f"; it is pulled near {names.degrees(facts.house, cut.pull_core_c)}" if cut else ""
    degrees, person = names.degrees(facts.house, celsius), names.person_name(facts.house, who)
    return f"{degrees} read at {when(facts, at)} by {person}; {all_read} readings{left_out}{aim}."


def _of_item(facts: Facts, item: str) -> Numbers:
    """An item of the service now or next; what its loads bring and what was sold of it."""
    coming = next_occasion(facts)
    wanted = promised(facts, *coming) if coming else {}
    names_of = {names.item_name(facts.house, id): id for id in wanted}
    id = item if item in wanted else names_of.get(item)
    if coming is None or id is None:
        return {}
    plan, occasion = coming
    sold = facts.sold.get((plan.day, occasion.id, id), 0)
    says = _brings(facts, plan, [ld for ld in plan.loads if ld.item == id and occasion.id in ld.services])
    left = max(0, wanted[id] - sold)
    return {
        "left": f"{wanted[id]} promised less {sold} sold: {left}.",
        "need": f"{wanted[id]} promised less {sold} sold: {left}.",
        "have": f"its loads: {says}." if says else "no load is planned for it.",
        "sold": f"{sold} of {wanted[id]} promised.",
        "portions-ready": f"its loads: {says}." if says else "",
    }


def _brings(facts: Facts, plan: Plan, loads: list[PlannedLoad]) -> str:
    """The portions of some loads by how far these are: `40 on and 83 holding`."""
    left: dict[LoadStage, int] = {}
    for load in loads:
        state = load_state(facts, load, plan.day)
        if state.stage is not LoadStage.LOST:
            left[state.stage] = left.get(state.stage, 0) + state.portions_left
    return names.listed([f"{portions} {stage.value}" for stage, portions in left.items()])


def _of_batch(facts: Facts, key: str) -> Numbers:
    found = next(((p, b) for p, b in all_batches(facts) if ref(p.day, b.id) == key), None)
    if found is None:
        return {}
    plan, batch = found
    made = batch_state(facts, batch, plan.day).made_at
    amount = format_mass(batch.amount_kg, facts.house.display)
    ready, use_by = when(facts, batch.ready_from), when(facts, batch.use_by)
    since = f"made at {when(facts, made)}" if made else f"to be made by {when(facts, batch.make_by)}"
    return {
        "amount": f"{amount} for {count(len(batch.loads), 'load')}.",
        "make-by": f"planned ready from {ready}.",
        "ready-from": f"{since}; planned from {ready}.",
        "use-by": f"{since}; planned until {use_by}.",
    }
