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

_TO_COME = (LoadStage.PLANNED, LoadStage.PREPPED, LoadStage.ON, LoadStage.WRAPPED)


def fires_out(facts: Facts, until: datetime, revised: Revised | None = None) -> Iterator[Check]:
    """The lit pits that are done with before a moment, when their last load is likely off."""
    for id, pit in facts.pits.items():
        if pit.lit_at is None or id not in facts.house.pits:
            continue
        at = _done_with(facts, id, revised)
        if at is not None and at < until:
            says = f"put out {names.pit_name(facts.house, id)}: nothing more goes on it"
            short = f"put out {names.pit_name(facts.house, id)}"
            yield Check(f"{PREFIX}{OUT}{id}", at, says, short)


def _done_with(facts: Facts, pit: str, revised: Revised | None) -> datetime | None:
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
        elif state.pulled_at is not None:
            ends.append(state.pulled_at)
    return max(ends, default=None)
