"""Why a load is late: what of it is the plan's, the loading's, the fire's, the batch's, and the meat's."""

from collections.abc import Iterator

from board.house.spans import minutes_between
from board.house.wording import duration
from board.ledger.state import LoadState
from board.planning.plan import Plan, PlannedLoad
from board.views import names
from board.views.days import lately
from board.views.facts import Facts, pit_at
from board.views.load_batches import load_batches
from board.views.progress import Progress, Risk
from board.views.text import Tone
from board.views.turning import due, turn_ahead

_WORTH_TELLING = 5.0  # minutes


def why_late(
    facts: Facts, plan: Plan, load: PlannedLoad, state: LoadState, likely: Progress
) -> tuple[str, ...]:
    """The reasons that are known, each with its minutes where it has any; nothing for a load in time."""
    if likely.risk is Risk.IN_TIME or (state.pulled_at is not None and likely.ready.p50 <= facts.now):
        return ()
    found = tuple(_reasons(facts, plan, load, state, likely))
    return found or ("nothing that is marked or read says why: the span alone makes it doubtful",)


def _reasons(
    facts: Facts, plan: Plan, load: PlannedLoad, state: LoadState, likely: Progress
) -> Iterator[str]:
    if load.spare_minutes_p50 < -_WORTH_TELLING:
        yield f"planned {duration(-load.spare_minutes_p50)} late already"
    if state.on_at is None:
        if (overdue := minutes_between(load.load_at, facts.now)) >= _WORTH_TELLING:
            yield f"not on yet: planned for {lately(facts, load.load_at)}, {duration(overdue)} ago"
        waits = (one for one in load_batches(facts, plan, load) if one.tone is Tone.LATE)
        yield from (f"waits {one.says}" for one in waits)
        return
    behind = minutes_between(load.load_at, state.on_at)
    if behind >= _WORTH_TELLING:
        yield f"went on {duration(behind)} after plan, at {lately(facts, state.on_at)}"
    yield from _fire(facts, plan, load, state)
    slower = minutes_between(load.pull_at.p50, likely.pull.p50) - behind
    if likely.core_c is not None and slower >= _WORTH_TELLING:
        core = names.degrees(facts.house, likely.core_c)
        yield f"its core, last {core}, comes up slower than planned: {duration(slower)}"


def _fire(facts: Facts, plan: Plan, load: PlannedLoad, state: LoadState) -> Iterator[str]:
    """A pit read too cool while the load was on it, or not turned up when it should have been."""
    pit = facts.house.pits.get(pit_at(facts, load, plan.day))
    if pit is None or state.on_at is None:
        return
    asked = facts.asked.get(pit.id, ())
    low = [
        reading
        for reading in facts.air.get(pit.id, ())
        if reading.at >= state.on_at
        and reading.temperature_c
        < next((c for at, c in reversed(asked) if at <= reading.at), load.setpoint_c) - pit.control_band_c
    ]
    if low:
        coldest = min(low, key=lambda reading: reading.temperature_c)
        fell = names.degrees(facts.house, coldest.temperature_c)
        yield f"{names.pit_name(facts.house, pit.id)} fell to {fell} at {lately(facts, coldest.at)}"
    turn = due(facts, plan, load)
    if turn is not None and turn_ahead(facts, plan, load) is not None:
        late = minutes_between(turn, facts.now)
        if late >= _WORTH_TELLING:
            yield f"{names.pit_name(facts.house, pit.id)} should have been turned {duration(late)} ago"
