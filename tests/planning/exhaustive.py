"""The best plan of a tiny problem by trying everything: modes, starts, fires and rests, dearer ones later.

Shares no code with the search, the solver or the bound: it reads the numbers of the problem and does its own
sums. For up to three parts, a few starts each, no fires burning already, and no turns.

Why it is complete. Runs of a pit are apart in time and each load lies within one, so the loads of a run are
neighbours in the order of loading: trying every cut of that order into runs tries all. Between two runs
a pit goes cold or is brought over hot. A hot pit burns all the time between, however the time is shared. A
run from cold burns from its warm-up to its last load; begun earlier it costs more, and is tried later.
"""

import heapq
from dataclasses import dataclass
from itertools import combinations, count, pairwise, product

import numpy as np

KINDS = ("light", "load", "pull", "wrap")


@dataclass(frozen=True)
class Cook:
    """One part somewhere: its part, its mode and its start."""

    part: object
    mode: object
    start: int

    @property
    def on(self):
        """The slot in which the last piece is on."""
        return self.start + self.part.load

    @property
    def end(self):
        """The slot in which its room is free again."""
        return self.on + self.mode.d90

    @property
    def off(self):
        """The usual slot of pulling."""
        return self.on + self.mode.d50


@dataclass(frozen=True)
class Fire:
    """A run as tried here: when it begins, when its meat goes on and is off, and whether it follows hot."""

    begin: int
    first: int
    end: int
    hot: bool


def best(problem):
    """The fewest points any plan of the problem costs."""
    number, heap = count(), []
    for chosen in product(*(_ways(problem, part) for part in problem.parts)):
        cooks = [cook for cook, _ in chosen if cook]
        own = sum(cost for _, cost in chosen)
        heap += [(own + _burn(problem, f), next(number), cooks, f) for f in _fires(problem, cooks)]
    heapq.heapify(heap)
    seen = set()
    while heap:
        cost, _, cooks, fires = heapq.heappop(heap)
        if not _sound(problem, cooks, fires, lighting=False):
            # lighting earlier leaves the rest of it as wrong as it is
            continue
        if _sound(problem, cooks, fires, lighting=True):
            return cost
        for later in _earlier(fires):
            key = (tuple(map(id, cooks)), tuple(sorted((p, tuple(f)) for p, f in later.items())))
            if key not in seen and _may_light(problem, later):
                seen.add(key)
                extra = _burn(problem, later) - _burn(problem, fires)
                heapq.heappush(heap, (cost + extra, next(number), cooks, later))
    raise AssertionError("leaving everything out is a plan")


def _ways(problem, part):
    """Each way to cook a part, and to leave it out, with its cost as data/costs.toml tells it."""
    w = problem.frame.weights
    found = [(None, w.unserved_portion * part.worth)]
    easy = max(-(-int(w.easy_hold_minutes) // 5), part.rest_max - part.rest_min)
    for mode in part.modes:
        for start in mode.starts:
            cook = Cook(part, mode, start)
            spare = part.ready_by - (cook.off + part.rest_min)
            short = cook.on + mode.dq + part.rest_min - part.ready_by
            cost = mode.work_points
            if spare < 0:
                cost += part.worth * (w.late_portion + w.late_portion_minute * 5 * -spare)
            if short > 0:
                cost += part.worth * w.thin_portion_minute * 5 * short
            if spare > easy:
                cost += part.worth * w.hold_portion_minute * 5 * (spare - easy)
            if part.kept:
                there = part.kept
                same = mode.pit == there.pit and mode.setpoint_c == there.setpoint_c
                if not (same and start == there.start):
                    cost += w.moved_load + w.moved_minute * 5 * abs(start - there.start)
                    cost += 0 if same else w.moved_pit
            found.append((cook, cost))
    return found


def _fires(problem, cooks):
    """Every way each pit may burn for these cooks, its cold fires lit as late as can be."""
    each = []
    for pit in sorted({cook.mode.pit for cook in cooks}):
        here = sorted((c for c in cooks if c.mode.pit == pit), key=lambda c: (c.start, c.end))
        each.append([(pit, fires) for fires in _of_pit(problem.frame.pits[pit], here)])
    yield from (dict(chosen) for chosen in product(*each))


def _of_pit(room, cooks):
    for cuts in product((False, True), repeat=len(cooks) - 1):
        groups = [[cooks[0]]]
        for cook, cut in zip(cooks[1:], cuts, strict=True):
            if cut:
                groups.append([cook])
            else:
                groups[-1].append(cook)
        if any(len({c.mode.setpoint_c for c in group}) > 1 for group in groups):
            continue
        spans = [(min(c.start for c in group), max(c.end for c in group)) for group in groups]
        for hot in product((False, True), repeat=len(groups) - 1):
            fires = []
            for (first, end), after in zip(spans, (False, *hot), strict=True):
                begin = fires[-1].end if after else first - room.warm
                fires.append(Fire(begin, first, end, after))
            if _apart(room, fires):
                yield tuple(fires)


def _apart(room, fires):
    cold = all(f.begin >= 0 for f in fires)
    return cold and all(
        b.first >= a.end + room.change_over if b.hot else b.begin > a.end for a, b in pairwise(fires)
    )


def _burn(problem, fires):
    w, cost = problem.frame.weights, 0.0
    for pit, runs in fires.items():
        for run in runs:
            cost += problem.frame.pits[pit].fuel_points * (run.end - run.begin)
            cost += w.change_over if run.hot else w.lighting
    return cost


def _earlier(fires):
    """The same fires with one of those lit from cold begun a slot earlier."""
    for pit, runs in fires.items():
        for i, run in enumerate(runs):
            if not run.hot:
                sooner = Fire(run.begin - 1, run.first, run.end, run.hot)
                yield fires | {pit: (*runs[:i], sooner, *runs[i + 1 :])}


def _may_light(problem, fires):
    return all(
        _apart(problem.frame.pits[pit], runs) and runs[0].begin >= problem.frame.outset.earliest
        for pit, runs in fires.items()
    )


def _sound(problem, cooks, fires, *, lighting):
    frame = problem.frame
    burning = [(pit, run) for pit, runs in fires.items() for run in runs]
    if any(frame.pits[pit].shut[max(0, r.begin) : r.end].any() for pit, r in burning):
        return False
    if any(r.begin < frame.outset.earliest for _, r in burning):
        return False
    people = _people(frame, cooks, burning, lighting=lighting)
    return people and _room_on_pits(frame, cooks) and _off_the_pits(frame, cooks)


def _room_on_pits(frame, cooks):
    for spot in {c.mode.spot for c in cooks}:
        area = np.zeros(frame.grid.slots + 1000)
        for begin, end, taken in frame.taken.cooking[spot]:
            area[begin:end] += taken
        for c in cooks:
            if c.mode.spot == spot:
                area[c.start : c.end] += c.part.area_cm2
        if any(
            (area[c.start : c.end] > frame.spots[spot].area_cm2).any() for c in cooks if c.mode.spot == spot
        ):
            return False
    return True


def _people(frame, cooks, burning, *, lighting):
    """Enough people for each set of kinds of work at once (Hall), and attention for work and fires."""
    work = [
        ("light", r.begin, r.begin + frame.pits[pit].light) for pit, r in burning if lighting and not r.hot
    ]
    for c in cooks:
        work += [("load", c.start, c.on), ("pull", c.off, c.off + c.part.pull)]
        if c.mode.wrap is not None:
            work.append(("wrap", c.on + c.mode.wrap, c.on + c.mode.wrap + c.part.wrap))
    people, there, busy = frame.crew.people, frame.crew.present, frame.crew.busy
    for size in range(1, len(KINDS) + 1):
        for kinds in combinations(KINDS, size):
            rows = [i for i, p in enumerate(people) if not p.can or set(p.can) & set(kinds)]
            left = (there & ~busy)[rows].sum(axis=0)
            for what, begin, end in work:
                left[begin:end] -= what in kinds
            if (left < 0).any():
                return False
    task = frame.weights.task_attention_percent
    left = 100 * there.sum(axis=0) - task * (there & busy).sum(axis=0)
    for _, begin, end in work:
        left[begin:end] -= task
    for pit, run in burning:
        left[run.begin : run.end] -= frame.pits[pit].tend_percent
    return not (left < 0).any()


def _off_the_pits(frame, cooks):
    """Some rest for each cook with which the bench and the hold are never too full."""
    long = frame.grid.slots + 1000
    bench, hold = np.full(long, frame.bench_cm2), np.full(long, frame.hold_cm2)
    for rests in product(*(range(c.part.rest_min, max(c.part.rest_min, c.part.rest_max) + 1) for c in cooks)):
        on_bench, held = bench.copy(), hold.copy()
        for c, rest in zip(cooks, rests, strict=True):
            rested = c.off + rest
            waits = max(0, c.part.wait_until - rested)
            if waits > c.part.hold_max:
                break
            on_bench[c.off : rested] -= c.part.area_cm2
            held[rested : rested + waits] -= c.part.area_cm2
        else:
            if (on_bench >= 0).all() and (held >= 0).all():
                return True
    return False
