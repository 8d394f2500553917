"""Whether a solution on the grid keeps every rule, worked out with no code of the search, solver or bound.

Slot by slot it adds up what lies where and who is busy with what, from the numbers of the problem alone.
Who works on what is checked by finding people for the work (a matching), not by counting sets of it.
"""

import numpy as np
from scipy.sparse import csr_matrix
from scipy.sparse.csgraph import maximum_bipartite_matching

BIRDS = {"chicken", "turkey", "duck", "goose"}


def assignment_faults(problem, plan):
    """Every rule a solution breaks, as text; none if it is sound."""
    cooks = [(part, plan.placed[part.id]) for part in problem.parts if part.id in plan.placed]
    unknown = plan.placed.keys() - {part.id for part in problem.parts}
    found = [f"{name} is no part of the problem" for name in unknown]
    for part, at in cooks:
        found += _window_faults(part, at)
        found += _fire_faults(plan, part, at)
    for pit, runs in plan.runs.items():
        found += _run_faults(problem, pit, runs)
    return [
        *found,
        *_hot_faults(problem, plan),
        *_room_faults(problem, cooks),
        *_drip_faults(problem, cooks),
        *_crew_faults(problem, plan, cooks),
    ]


def _on(part, at):
    return at.start + part.load


def _gone(part, at):
    return _on(part, at) + at.mode.d90


def _off(part, at):
    return _on(part, at) + at.mode.d50


def _window_faults(part, at):
    if at.mode not in part.modes:
        yield f"{part.id} has no such mode"
    if at.start not in at.mode.starts:
        yield f"{part.id} may not start in {at.start}"
    if not part.rest_min <= at.rest <= max(part.rest_min, part.rest_max):
        yield f"{part.id} rests {at.rest} slots"
    if part.wait_until - (_off(part, at) + at.rest) > part.hold_max:
        yield f"{part.id} is held too long"


def _asked(part, at):
    """Setpoints and the slots each is asked for."""
    if at.mode.turn is None:
        return [(at.start, _gone(part, at), at.mode.setpoint_c)]
    middle = _on(part, at) + at.mode.turn.after
    return [(at.start, middle, at.mode.setpoint_c), (middle, _gone(part, at), at.mode.turn.setpoint_c)]


def _fire_faults(plan, part, at):
    for begin, end, setpoint in _asked(part, at):
        runs = [r for r in plan.runs.get(at.mode.pit, ()) if r.begin <= begin and end <= r.end]
        if not any(run.setpoint_c == setpoint for run in runs):
            yield f"{part.id} asks for {setpoint} on {at.mode.pit} from {begin} to {end}"


def _run_faults(problem, pit, runs):
    frame, room = problem.frame, problem.frame.pits[pit]
    kept = [(run.begin, run.end, run.setpoint_c) for run in frame.taken.runs[pit]]
    for begin, end, setpoint in kept:
        if not any(r.begin == begin and r.end >= end and r.setpoint_c == setpoint for r in runs):
            yield f"the fire of {pit} from {begin} does not burn"
    for n, run in enumerate(runs):
        before = runs[n - 1] if n else None
        if run.chained and not run.known and (before is None or before.end != run.begin):
            yield f"{pit} is brought to {run.setpoint_c} from nothing"
        if not run.chained and before is not None and run.begin <= before.end:
            yield f"fires of {pit} meet in {run.begin}"
        if not run.known and run.begin < max(0, frame.outset.earliest):
            yield f"{pit} is lit in the past"
        if room.shut[max(0, run.begin) : run.end].any():
            yield f"{pit} burns while it is out of use"


def _hot_faults(problem, plan):
    """Loads that go on before their pit is hot; one that is on while the setpoint turns stays on."""
    for part in problem.parts:
        at = plan.placed.get(part.id)
        run = at and next((r for r in plan.runs[at.mode.pit] if r.begin <= at.start < r.end), None)
        if run is None or run.known:
            continue
        room = problem.frame.pits[at.mode.pit]
        if at.start < run.begin + (room.change_over if run.chained else room.warm):
            yield f"{part.id} goes on while {at.mode.pit} is cold"


def _room_faults(problem, cooks):
    frame, slots = problem.frame, problem.frame.grid.slots + 2000
    uses = {spot: [] for spot in frame.spots}
    bench, hold = [], []
    for part, at in cooks:
        rested = _off(part, at) + at.rest
        uses[at.mode.spot].append((at.start, _gone(part, at), part.area_cm2))
        bench.append((_off(part, at), rested, part.area_cm2))
        hold.append((rested, max(rested, part.wait_until), part.area_cm2))
    places = [
        (key, frame.spots[key].area_cm2, frame.taken.cooking[key], stays) for key, stays in uses.items()
    ]
    places += [
        ("bench", frame.bench_cm2, frame.taken.bench, bench),
        ("hold", frame.hold_cm2, frame.taken.hold, hold),
    ]
    for name, area, standing, stays in places:
        there, ours = np.zeros(slots, np.int64), np.zeros(slots, np.int64)
        for begin, end, cm2 in standing:
            there[max(0, begin) : end] += cm2
        for begin, end, cm2 in stays:
            ours[begin:end] += cm2
        over = np.flatnonzero((ours > 0) & (there + ours > area))
        if len(over):
            yield f"{name} is over full in slot {over[0]}"


def _drip_faults(problem, cooks):
    """Raw poultry above other meat on a pit, ours or what stands."""
    frame, lying = problem.frame, []
    for part, at in cooks:
        cut = part.need.cut
        bird = cut.animal in BIRDS or cut.handling.name == "POULTRY"
        lying.append((frame.spots[at.mode.spot], at.start, _gone(part, at), bird, part.id))
    for kept, bird in ((frame.taken.birds, True), (frame.taken.others, False)):
        lying += [(frame.spots[s], b, e, bird, "") for s, stays in kept.items() for b, e, _ in stays]
    by_pit = {}
    for one in lying:
        by_pit.setdefault(one[0].pit, []).append(one)
    for here in by_pit.values():
        for spot, begin, end, bird, name in here:
            for other, first, last, other_bird, beside in here:
                together = begin < last and first < end and (name or beside)
                if bird and not other_bird and spot.level > other.level and together:
                    yield f"{name or 'a bird'} drips on {beside or 'standing meat'}"


def _crew_faults(problem, plan, cooks):
    """Work nobody can do, and slots in which people watch and work more than they can."""
    frame = problem.frame
    work = [(t.what, t.begin, t.end) for t in frame.taken.tasks]
    standing = len(work)
    for pit, runs in plan.runs.items():
        light = frame.pits[pit].light
        work += [("light", r.begin, r.begin + light) for r in runs if not r.chained and not r.known]
    for part, at in cooks:
        work += [("load", at.start, _on(part, at)), ("pull", _off(part, at), _off(part, at) + part.pull)]
        if at.mode.wrap is not None:
            wrap = _on(part, at) + at.mode.wrap
            work.append(("wrap", wrap, wrap + part.wrap))
    return [*_undone(frame, work, standing), *_unwatched(frame, plan, work, standing)]


def _undone(frame, work, standing):
    """Slots in which the work cannot be given to people, one each, but for what stands being too much."""
    people, free = frame.crew.people, frame.crew.present & ~frame.crew.busy
    by_slot = {}
    for n, (what, begin, end) in enumerate(work):
        for slot in range(begin, min(end, frame.grid.slots)):
            by_slot.setdefault(slot, []).append((what, n >= standing))
    for slot, asked in by_slot.items():
        there = [p for n, p in enumerate(people) if free[n, slot]]
        kept = [what for what, ours in asked if not ours]
        could = any(ours for _, ours in asked) and _matched(there, kept) == len(kept)
        if could and _matched(there, [what for what, _ in asked]) < len(asked):
            yield f"nobody for {', '.join(sorted(what for what, _ in asked))} in slot {slot}"


def _matched(people, work):
    """How many of these tasks can be given out at once, one a person."""
    if not people or not work:
        return 0
    can = [[not p.can or what in p.can for p in people] for what in work]
    return int((maximum_bipartite_matching(csr_matrix(np.array(can, dtype=np.int8)), "column") >= 0).sum())


def _unwatched(frame, plan, work, standing):
    task, slots = frame.weights.task_attention_percent, frame.grid.slots
    there = 100 * frame.crew.present.sum(axis=0) - task * (frame.crew.present & frame.crew.busy).sum(axis=0)
    asked, kept = np.zeros(slots, np.int64), np.zeros(slots, np.int64)
    for n, (_, begin, end) in enumerate(work):
        asked[begin:end] += task
        if n < standing:
            kept[begin:end] += task
    for pit, runs in plan.runs.items():
        for run in runs:
            asked[run.begin : run.end] += frame.pits[pit].tend_percent
        for run in frame.taken.runs[pit]:
            kept[run.begin : run.end] += frame.pits[pit].tend_percent
    over = np.flatnonzero((asked > there) & (asked > kept))
    if len(over):
        yield f"too few watch and work in slot {over[0]}"
