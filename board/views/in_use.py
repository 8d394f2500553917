"""When a hot hold had food in it: its air is only then a matter of food, whoever sends it."""

from collections.abc import Iterator, Sequence
from datetime import datetime

from board.ledger.state import Reading, WatchKind
from board.views.facts import Facts, all_loads, load_state
from board.views.watching import rested_at

Span = tuple[datetime, datetime]


def held_spans(facts: Facts, hold: str) -> list[Span]:
    """The spans in which food was in a hot hold, by time; one that has not ended ends now."""
    found: list[Span] = []
    for start, end in sorted((*_loads(facts, hold), *_watches(facts, hold))):
        if found and start <= found[-1][1]:
            found[-1] = (found[-1][0], max(end, found[-1][1]))
        elif start < end:
            found.append((start, end))
    return found


def is_held(facts: Facts, hold: str) -> bool:
    """Whether food is in a hot hold now."""
    return any(end >= facts.now for _, end in held_spans(facts, hold))


def read_with_food(readings: Sequence[Reading], spans: Sequence[Span]) -> tuple[Reading, ...]:
    """All readings by hand, and of what probes fed what they fed while food was in."""
    return tuple(
        one for one in readings if one.probe is None or any(start <= one.at <= end for start, end in spans)
    )


def _loads(facts: Facts, hold: str) -> Iterator[Span]:
    for plan, load in all_loads(facts):
        state = load_state(facts, load, plan.day)
        if load.hold != hold or state.pulled_at is None:
            continue
        began = state.holding_at or rested_at(load, state.pulled_at)
        yield began, state.served_at or state.lost_at or facts.now


def _watches(facts: Facts, hold: str) -> Iterator[Span]:
    for watch in facts.watches:
        if watch.kind is WatchKind.HOT_HOLD and watch.place == hold:
            yield watch.started_at, watch.ended_at or facts.now
