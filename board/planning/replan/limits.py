"""Which rule a place breaks, when, and beside which load."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from board.house.units import format_temperature
from board.house.wording import clock_and_day, count, duration, in_list
from board.planning.account.limit_words import LIMIT_WORDS
from board.planning.crew import throughout
from board.planning.grid import SLOT_MINUTES, slots_down
from board.planning.part_making import outset_for
from board.planning.problem import (
    Mode,
    Part,
    Placed,
    Problem,
    cooking,
    holding,
    off_slot,
    on_slot,
    resting,
    tasks,
)
from board.planning.replan.pin import Pin
from board.planning.search.occupancy import LIMITS, Occupancy
from board.planning.windows import prepared


@dataclass(frozen=True, slots=True)
class Broken:
    """A limit that a place breaks: its name, the moment, the parts it meets there, and a sentence."""

    limit: str
    at: datetime
    others: tuple[str, ...]
    says: str


def broken_limits(occupancy: Occupancy, part: Part, at: Placed) -> tuple[Broken, ...]:
    """Every limit that a place breaks beside what is placed; none where it fits."""
    found = []
    lifted = occupancy.lifted
    try:
        for limit in LIMITS:
            occupancy.lifted = frozenset(LIMITS) - {limit}
            if isinstance(occupancy.fit(part, at), str):
                found.append(_broken(occupancy, part, at, limit))
        occupancy.lifted = frozenset()
        whole = occupancy.fit(part, at)
        if not found and isinstance(whole, str):
            found.append(_broken(occupancy, part, at, whole))
    finally:
        occupancy.lifted = lifted
    return tuple(found)


def _broken(occupancy: Occupancy, part: Part, at: Placed, limit: str) -> Broken:
    problem = occupancy.problem
    slot, others = _where(occupancy, part, at, limit)
    names = in_list([count(other.pieces, other.need.cut.name) for other in others])
    says = _limit_words(problem, at, limit)
    beside = f" with {names}" if names else ""
    return Broken(
        limit,
        problem.frame.grid.moment(slot),
        tuple(other.id for other in others),
        f"{says} at {when(problem, slot)}{beside}",
    )


def _limit_words(problem: Problem, at: Placed, limit: str) -> str:
    pit = problem.frame.pits[at.mode.pit].pit.name
    if limit == "pit room":
        return f"{pit} is full"
    if limit == "setpoint":
        asked = format_temperature(at.mode.setpoint_c, problem.frame.house.display)
        return f"{pit} is out of use, cold or at another setpoint than {asked}"
    return LIMIT_WORDS.get(limit, limit)


def _where(occupancy: Occupancy, part: Part, at: Placed, limit: str) -> tuple[int, tuple[Part, ...]]:
    """The first slot in which most of the others meet the part at a limit, and which they are."""
    spans = _spans(part, at, limit)
    others = [
        (other, span)
        for other in occupancy.problem.parts
        if other.id != part.id and other.id in occupancy.placed
        for span in _spans(other, occupancy.placed[other.id], limit)
        if _meets(occupancy, other, at, limit)
    ]
    best: tuple[int, tuple[Part, ...]] = (spans[0][0], ())
    for begin, end in spans:
        for slot in sorted({begin, *(b for _, (b, _) in others if begin < b < end)}):
            here = tuple({other.id: other for other, (b, e) in others if b <= slot < e}.values())
            if sum(o.area_cm2 for o in here) > sum(o.area_cm2 for o in best[1]):
                best = slot, here
    return best


def _meets(occupancy: Occupancy, other: Part, at: Placed, limit: str) -> bool:
    there = occupancy.placed[other.id].mode
    if limit == "pit room":
        return there.spot == at.mode.spot
    return there.pit == at.mode.pit if limit == "setpoint" else True


def _spans(part: Part, at: Placed, limit: str) -> list[tuple[int, int]]:
    """When a placed part asks for what is limited."""
    if limit == "bench":
        return [resting(part, at)]
    if limit == "hold":
        return [holding(part, at)]
    if limit in ("hands", "attention"):
        return [(task.begin, max(task.end, task.begin + 1)) for task in tasks(part, at)]
    return [cooking(part, at)]


def why_no_start(problem: Problem, part: Part, pin: Pin, mode: Mode | None, start: int) -> str:
    """Why a part may not be loaded at a place in a slot at all, whatever else is planned."""
    if mode is None:
        return _no_mode(problem, part, pin)
    found = next(_reasons(problem, part, mode, start), "")
    return found or f"its work cannot all be done by someone for a start at {when(problem, start)}"


def _no_mode(problem: Problem, part: Part, pin: Pin) -> str:
    room, cut, house = problem.frame.pits[pin.pit], part.need.cut, problem.frame.house
    at = sorted({mode.setpoint_c for mode in part.modes if mode.pit == pin.pit})
    if not at:
        return f"{room.pit.name} does not take {cut.name} on this day"
    offered = in_list([format_temperature(setpoint, house.display) for setpoint in at])
    return f"{room.pit.name} cooks {cut.name} at {offered} on this day"


def _reasons(problem: Problem, part: Part, mode: Mode, start: int) -> Iterator[str]:
    frame = problem.frame
    room, grid, cut = frame.pits[mode.pit], frame.grid, part.need.cut
    off = start + part.load + mode.d50
    if not 0 <= start < grid.slots or start < frame.outset.earliest:
        yield f"{when(problem, start)} is past, or too far from the day that is planned"
        return
    late = (off + part.rest_min - part.ready_by) * SLOT_MINUTES
    if late > slots_down(frame.weights.tardy_minutes_most) * SLOT_MINUTES:
        most = duration(frame.weights.tardy_minutes_most)
        yield f"it would likely be {duration(late)} late, {most} is the most that is planned"
    held = (part.wait_until - off - part.rest_max) * SLOT_MINUTES
    if held > part.hold_max * SLOT_MINUTES:
        most = duration(cut.hold_longest_minutes)
        yield f"it would be held {duration(held)}, {most} is the most for {cut.name}"
    if not prepared(cut.prep, part.pieces, frame.crew, outset_for(frame, part.share))[start]:
        steps = in_list([rule.what for rule in cut.prep])
        yield f"its preparation ({steps}) cannot be done in time for {when(problem, start)}"
    burning = range(max(0, start - room.warm), min(grid.slots, start + part.load + mode.d90))
    shut = [slot for slot in burning if room.shut[slot]]
    if shut:
        yield f"{room.pit.name} is out of use at {when(problem, shut[0])}"
    yield from _nobody(problem, part, mode, start)


def _nobody(problem: Problem, part: Part, mode: Mode, start: int) -> Iterator[str]:
    crew, at = problem.frame.crew, Placed(mode, start, part.rest_min)
    on = on_slot(part, at)
    pulling = throughout(crew.on_hand("pull", part.pull), mode.d90 - mode.d10 + 1)
    asked = [("load", crew.someone("load", part.load), start), ("pull", pulling, on + mode.d10)]
    asked.append(("pull", crew.someone("pull", part.pull), on + mode.d50))
    if mode.wrap is not None:
        asked.append(("wrap", crew.someone("wrap", part.wrap), on + mode.wrap))
    for what, there, slot in asked:
        if slot >= len(there) or not there[slot]:
            yield f"nobody is there to {what} it at {when(problem, min(slot, off_slot(part, at)))}"
    room = problem.frame.pits[mode.pit]
    empty = [slot for slot in range(max(0, start - room.warm), on + mode.d90) if not _there(problem, slot)]
    if room.pit.tend_fraction > 0 and empty:
        yield f"nobody is there to watch the fire of {room.pit.name} at {when(problem, empty[0])}"
    if start < problem.frame.outset.earliest + room.warm:
        yield f"{room.pit.name} cannot be hot by {when(problem, start)}"


def _there(problem: Problem, slot: int) -> bool:
    count = problem.frame.crew.count
    return slot < len(count) and bool(count[slot] > 0)


def when(problem: Problem, slot: int) -> str:
    """A slot on the house's clock, with its date."""
    return clock_and_day(problem.frame.grid.moment(slot), problem.frame.house)
