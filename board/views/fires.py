"""Fires that the plan lets go out: a pit whose last load comes off before it is lit anew, or for good."""

from collections.abc import Iterator
from datetime import datetime

from board.ledger.state import LoadStage
from board.views import names
from board.views.checks import OUT, PREFIX, Check
from board.views.facts import Facts, all_loads, all_steps, load_state, pit_at
from board.views.likely import likely_times
from board.views.progress import Revised
from board.views.steps import is_done

_ON_PIT = (LoadStage.ON, LoadStage.WRAPPED)
_TO_COME = (LoadStage.PLANNED, LoadStage.PREPPED, *_ON_PIT)


def fires_out(facts: Facts, until: datetime, revised: Revised | None = None) -> Iterator[Check]:
    """The lit pits that are done with before a moment, when their last load is likely off."""
    for id, pit in facts.pits.items():
        if pit.lit_at is None or id not in facts.house.pits:
            continue
        at = None if _has_more(facts, id) else _done_with(facts, id, pit.lit_at, revised)
        if at is not None and at < until:
            says = f"put out {names.pit_name(facts.house, id)}: nothing more goes on it"
            short = f"put out {names.pit_name(facts.house, id)}"
            yield Check(f"{PREFIX}{OUT}{id}", at, says, short)


def _has_more(facts: Facts, pit: str) -> bool:
    """Whether something is on a pit that no plan names any more, so that nobody knows when it comes off."""
    return any(one.dropped and one.pit == pit and one.stage in _ON_PIT for one in facts.loads.values())


def _done_with(facts: Facts, pit: str, lit_at: datetime, revised: Revised | None) -> datetime | None:
    """When the last load of a fire comes off; None where no load was on it, or no plan tells of any."""
    lit_anew = min(
        (
            step.at
            for plan, step in all_steps(facts)
            if step.what == "light"
            and step.pit == pit
            and step.at > facts.now
            and not is_done(facts, plan, step)
        ),
        default=None,
    )
    ends: list[datetime] = []
    for plan, load in all_loads(facts):
        if pit_at(facts, load, plan.day) != pit or (lit_anew is not None and load.load_at >= lit_anew):
            continue
        state = load_state(facts, load, plan.day)
        if state.stage in _TO_COME:
            ends.append(likely_times(facts, plan, load, revised).pull.p50)
        elif state.pulled_at is not None and state.pulled_at >= lit_at:
            ends.append(state.pulled_at)
    return max(ends, default=None)
