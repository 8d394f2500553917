"""What keeps a load from a place: which limit, and who or which load is in the way."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from board.house.wording import count, in_list
from board.planning.account.limit_words import LIMIT_WORDS
from board.planning.account.told import Told
from board.planning.grid import SLOT_MINUTES
from board.planning.plan import PlannedStep
from board.planning.problem import Part, Placed, cooking, holding, off_slot, on_slot, phases, resting, tasks
from board.planning.search.insertion import rests
from board.planning.search.occupancy import Fit

# More names than this in one sentence are told as a number.
_NAMED_MOST = 3


def fitted(told: Told, at: Placed) -> Fit | str:
    """The cheapest way to have the load there, its rest chosen anew, or the limit that is in the way."""
    spare = told.part.wait_until - off_slot(told.part, at)
    tried = [told.others.fit(told.part, replace(at, rest=rest)) for rest in rests(told.part, spare)]
    fits = [fit for fit in tried if isinstance(fit, Fit)]
    if fits:
        return min(fits, key=lambda fit: fit.added)
    return next((fit for fit in tried if isinstance(fit, str)), "wait")


def hindrance(told: Told, at: Placed) -> str | None:
    """What keeps the load from a place, with who or what is in the way; None where nothing does."""
    if at.start not in at.mode.starts:
        return _not_allowed(told, at)
    found = fitted(told, at)
    if isinstance(found, Fit):
        return None
    if found == "wait":
        return _waits_too_long(told)
    says = _SAYS.get(found)
    return says(told, at) if says else LIMIT_WORDS[found]


def _not_allowed(told: Told, at: Placed) -> str:
    """Why a start is none of the mode's: the need, the shifts, the pit, or the preparation."""
    part, frame = told.part, told.problem.frame
    on, off = on_slot(part, at), off_slot(part, at)
    if off + part.rest_min - part.ready_by > frame.weights.tardy_minutes_most / SLOT_MINUTES:
        return "it would be later than any guest waits"
    if part.wait_until - (off + part.rest_max) > part.hold_max:
        return _waits_too_long(told)
    missing = _nobody(told, at)
    if missing:
        return missing
    warm, pit = frame.pits[at.mode.pit].warm, frame.pits[at.mode.pit]
    shut = np.flatnonzero(pit.shut[max(0, at.start - warm) : on + at.mode.d90])
    if len(shut):
        return f"{pit.pit.name} is out of use"
    return "its preparation cannot be done by then"


def _nobody(told: Told, at: Placed) -> str | None:
    """The first moment at which nobody is on shift for what the load needs there."""
    part, crew = told.part, told.problem.frame.crew
    on = on_slot(part, at)
    asked = [("load", part.load, at.start, at.start + 1)]
    if at.mode.wrap is not None:
        asked.append(("wrap", part.wrap, on + at.mode.wrap, on + at.mode.wrap + 1))
    asked.append(("pull", part.pull, on + at.mode.d10, on + at.mode.d90 + 1))
    for what, slots, first, last in asked:
        there = crew.someone(what, slots)[max(0, first) : last]
        gone = np.flatnonzero(~there)
        if len(gone):
            may = ", when it may come off" if what == "pull" else ""
            return f"nobody is on shift to {what} it at {told.slot(max(0, first) + int(gone[0]))}{may}"
    return None


def _waits_too_long(told: Told) -> str:
    return f"it would be held longer than the {told.part.need.cut.name} may"


def _full(told: Told, at: Placed) -> str:
    left, (begin, end) = told.others.pit_left[at.mode.spot], cooking(told.part, at)
    short = np.flatnonzero(left[begin:end] < told.part.area_cm2) + begin
    first = int(short[0])
    free = np.flatnonzero(left[first:] >= told.part.area_cm2)
    until = f" until {told.slot(first + int(free[0]))}" if len(free) else ""
    here = [
        part
        for part, other in told.others.meat[at.mode.pit].values()
        if other.mode.spot == at.mode.spot and _inside(first, cooking(part, other))
    ]
    name = told.problem.frame.pits[at.mode.pit].pit.name
    return f"{name} is full{_with(here)}{until}"


def _other_heat(told: Told, at: Placed) -> str:
    name = told.problem.frame.pits[at.mode.pit].pit.name
    begin, end = cooking(told.part, at)
    asked = {phase.setpoint_c for phase in phases(told.part, at)}
    for run in told.others.runs[at.mode.pit]:
        if run.begin < end and begin < run.end and run.setpoint_c not in asked:
            return f"{name} burns at another setpoint until {told.slot(run.end)}"
    return f"{name} cannot be hot at its setpoint by {told.slot(begin)}"


def _busy(told: Told, at: Placed) -> str:
    """Whose hands are where, at the first of its tasks that finds none free."""
    for task in tasks(told.part, at):
        for kinds, left in told.others.work.items():
            if task.what in kinds and (left[task.begin : task.end] < 1).any():
                slot = task.begin + int(np.flatnonzero(left[task.begin : task.end] < 1)[0])
                return f"nobody is free to {task.what} it at {told.slot(slot)}{_who(told, slot)}"
    return "nobody is free to light its fire"


def _who(told: Told, slot: int) -> str:
    moment = told.problem.frame.grid.moment(slot)
    at_work = [
        step
        for step in told.laid.steps
        if step.who and step.load != told.load.id and step.at <= moment < step.ends_at
    ]
    if not at_work or len(at_work) > _NAMED_MOST:
        return ""
    return f": {in_list([_doing(told, step) for step in at_work])}"


def _doing(told: Told, step: PlannedStep) -> str:
    """`Ines has to load 6 briskets on South`."""
    who = told.house.people[step.who or ""].name
    load = next((load for load in told.laid.loads if load.id == step.load), None)
    if load is not None:
        meat = count(load.pieces, told.house.cuts[load.cut].name)
        return f"{who} has to {step.what} {meat} on {told.house.pits[load.pit].name}"
    if step.pit is not None:
        return f"{who} has to {step.what} {told.house.pits[step.pit].name}"
    return f"{who} has to {step.what}"


def _watched(told: Told, at: Placed) -> str:
    return f"from {told.slot(at.start)} the crew has as many fires and as much work to watch as it can"


def _bench(told: Told, at: Placed) -> str:
    return _shelf_full(told, "the bench", told.others.bench_left, resting(told.part, at), hot=False)


def _hold(told: Told, at: Placed) -> str:
    return _shelf_full(told, "the hold", told.others.hold_left, holding(told.part, at), hot=True)


def _shelf_full(told: Told, name: str, left: np.ndarray, span: tuple[int, int], *, hot: bool) -> str:
    short = np.flatnonzero(left[slice(*span)] < told.part.area_cm2)
    if not len(short):
        return f"{name} is full"
    first = span[0] + int(short[0])
    placed = [pair for meat in told.others.meat.values() for pair in meat.values()]
    there = holding if hot else resting
    here = [part for part, other in placed if _inside(first, there(part, other))]
    return f"{name} is full at {told.slot(first)}{_with(here)}"


def _inside(slot: int, span: tuple[int, int]) -> bool:
    return span[0] <= slot < span[1]


def _with(parts: list[Part]) -> str:
    """`with 12 briskets and 4 shoulders`; nothing where it is other days' meat alone."""
    pieces: dict[str, int] = {}
    for part in parts:
        pieces[part.need.cut.name] = pieces.get(part.need.cut.name, 0) + part.pieces
    return f" with {in_list([count(n, name) for name, n in pieces.items()])}" if pieces else ""


# The limits that can name who or what is in the way; the others say no more than LIMIT_WORDS.
_SAYS: dict[str, Callable[[Told, Placed], str]] = {
    "pit room": _full,
    "setpoint": _other_heat,
    "hands": _busy,
    "attention": _watched,
    "bench": _bench,
    "hold": _hold,
}
