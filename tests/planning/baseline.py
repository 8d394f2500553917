"""Plain back-scheduling, to hold plans against: each load as late as is sure, on the first pit that fits.

It does what a careful person does by hand, from the services backwards: the loads of each service in turn,
each at its latest start that meets its chance, on the first pit with room, hands, attention, bench and hold.
A fire is lit when none burns there, and a load joins one at its setpoint otherwise. Where no start is sure it
takes the least late one; what fits nowhere is left out. Setpoints are never changed, hot or with meat on.
It shares no code with the search: it keeps its own arrays of what is left.
"""

import numpy as np

from board.planning.levels import drips, drips_beside
from board.planning.problem import Assignment, Placed, cooking, holding, resting, tasks
from board.planning.run import Run, Task
from board.planning.standing import left_over

KINDS = ("light", "load", "pull", "set", "wrap")
# A fire is lit so many slots sooner than it must be where nobody has hands just then.
SOONER = 12


def back_scheduled(problem):
    """The plan of a plain back-scheduler, costed like any other by `problem.points`."""
    house = _Left(problem)
    for part in sorted(problem.parts, key=lambda p: (p.ready_by, p.share.number, p.id)):
        _place(house, part)
    return Assignment(house.placed, house.runs)


def _place(house, part):
    """The latest sure start on the first pit that has one, else the least late on the first that fits."""
    by_pit = {pit: [] for pit in dict.fromkeys(m.pit for m in part.modes)}
    for mode in part.modes:
        if mode.turn is None:
            by_pit[mode.pit].append(mode)
    for sure in (True, False):
        for modes in by_pit.values():
            if any(house.take(part, mode, start) for mode, start in _starts(house, part, modes, sure)):
                return


def _starts(house, part, modes, sure):
    """Modes and starts with room on the pit: the latest of those that are sure, or the least late ones."""
    found = []
    for mode in modes:
        last = part.ready_by - part.rest_min - mode.dq - part.load
        starts = np.array(mode.starts, dtype=np.int64)
        starts = starts[(starts <= last) == sure]
        if len(starts):
            found += [(mode, int(s)) for s in starts[house.roomy(mode, part, starts)]]
    done = [(start + part.load + mode.dq, n) for n, (mode, start) in enumerate(found)]
    if sure:
        return sorted(found, key=lambda pair: -pair[1])
    return [found[n] for _, n in sorted(done)]


class _Left:
    """What is left of everything as loads are placed."""

    def __init__(self, problem):
        frame, slots = problem.frame, problem.frame.grid.slots
        self.problem = problem
        self.spots = {
            key: left_over(s.area_cm2, slots, frame.taken.cooking[key]) for key, s in frame.spots.items()
        }
        self.bench = left_over(frame.bench_cm2, slots, frame.taken.bench)
        self.hold = left_over(frame.hold_cm2, slots, frame.taken.hold)
        self.work = {kinds: n.copy() for kinds, n in frame.crew.limits(KINDS)}
        self.attention = frame.crew.attention(frame.weights.task_attention_percent)
        self.placed, self.on = {}, {pit: [] for pit in frame.pits}
        self.runs = {pit: tuple(frame.taken.runs[pit]) for pit in frame.pits}
        self._do(frame.taken.tasks, 1)
        for pit, runs in self.runs.items():
            self._watch(pit, runs, 1)

    def roomy(self, mode, part, starts):
        """Which of these starts have room on the mode's spot."""
        full = np.concatenate(([0], np.cumsum(self.spots[mode.spot] < part.area_cm2)))
        ends = np.minimum(starts + part.load + mode.d90, len(full) - 1)
        return full[ends] == full[starts]

    def take(self, part, mode, start):
        """Place a part there if all it asks for is left; whether it was."""
        rest = self._rest(part, mode, start)
        if rest is None:
            return False
        at = Placed(mode, start, rest)
        if self._drips(part, at):
            return False
        return any(self._taken(part, at, runs) for runs in self._fires(part, at))

    def _rest(self, part, mode, start):
        """The shortest rest after which bench and hold have room."""
        for rest in range(part.rest_min, max(part.rest_min, part.rest_max) + 1):
            at = Placed(mode, start, rest)
            (off, rested), (_, until) = resting(part, at), holding(part, at)
            benched = (self.bench[off:rested] >= part.area_cm2).all()
            if (
                until - rested <= part.hold_max
                and benched
                and (self.hold[rested:until] >= part.area_cm2).all()
            ):
                return rest
        return None

    def _drips(self, part, at):
        spots, (begin, end) = self.problem.frame.spots, cooking(part, at)
        here = spots[at.mode.spot]
        for other, there in self.on[here.pit]:
            first, last = cooking(other, there)
            if begin < last and first < end and drips(part, here, other, spots[there.mode.spot]):
                return True
        return drips_beside(self.problem, part, at)

    def _fires(self, part, at):
        """The pit's runs with this load's fire among them, lit as late as can be first."""
        pit, (first, end) = at.mode.pit, cooking(part, at)
        room, runs = self.problem.frame.pits[pit], self.runs[pit]
        for begin in range(first - room.warm, first - room.warm - SOONER - 1, -1):
            burnt = _joined(runs, Run(begin, end, at.mode.setpoint_c), first, room)
            if burnt is not None and self._may_burn(room, burnt):
                yield burnt

    def _may_burn(self, room, runs):
        fresh = [run for run in runs if not run.known]
        lit = all(run.begin >= max(0, self.problem.frame.outset.earliest) for run in fresh)
        return lit and not any(room.shut[run.begin : run.end].any() for run in runs)

    def _taken(self, part, at, runs):
        """Give the hands and the room away; take them back if anyone is asked too much."""
        pit, before = at.mode.pit, self.runs[at.mode.pit]
        work = tasks(part, at)
        lowest = self._lowest()
        self._watch(pit, before, -1)
        self._watch(pit, runs, 1)
        self._do(work, 1)
        if any((now < np.minimum(0, was)).any() for now, was in zip(self._people(), lowest, strict=True)):
            self._do(work, -1)
            self._watch(pit, runs, -1)
            self._watch(pit, before, 1)
            return False
        for left, (begin, end) in (
            (self.spots[at.mode.spot], cooking(part, at)),
            (self.bench, resting(part, at)),
            (self.hold, holding(part, at)),
        ):
            left[begin:end] -= part.area_cm2
        self.placed[part.id], self.runs[pit] = at, runs
        self.on[pit].append((part, at))
        return True

    def _people(self):
        return [self.attention, *self.work.values()]

    def _lowest(self):
        return [left.copy() for left in self._people()]

    def _do(self, work, sign):
        for task in work:
            for kinds, left in self.work.items():
                if task.what in kinds:
                    left[task.begin : task.end] -= sign
            percent = self.problem.frame.weights.task_attention_percent
            self.attention[task.begin : task.end] -= sign * percent

    def _watch(self, pit, runs, sign):
        """Light and tend a pit's fires; what burns already is lit."""
        room = self.problem.frame.pits[pit]
        for run in runs:
            self.attention[run.begin : run.end] -= sign * room.tend_percent
            if not run.chained and not run.known:
                self._do([Task("light", run.begin, run.begin + room.light)], sign)


def _joined(runs, fire, first, room):
    """The runs with one more fire, those it meets made one with it; none where that cannot be.

    Args:
        first: the slot in which the meat goes on.
    """
    met = [run for run in runs if run.begin <= fire.end and fire.begin <= run.end]
    if not met:
        return tuple(sorted((*runs, fire), key=lambda run: run.begin))
    if any(abs(run.setpoint_c - fire.setpoint_c) > 0 for run in met):
        return None
    fixed = [run for run in met if run.known or run.chained]
    if fixed:
        return _in_fixed(runs, fixed, fire, first, room) if met == fixed else None
    one = Run(min(fire.begin, met[0].begin), max(fire.end, *(run.end for run in met)), fire.setpoint_c)
    return tuple(sorted((*(run for run in runs if run not in met), one), key=lambda run: run.begin))


def _in_fixed(runs, fixed, fire, first, room):
    """A fire that burns already keeps its beginning, and is not made longer: what fits in it may join."""
    (run, *more) = fixed
    heat = room.change_over if run.chained else room.warm
    return runs if not more and run.begin + heat <= first and fire.end <= run.end else None
