"""All starts of a part judged at once: where it has room, hands and a fire, and what each start adds."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from board.planning.problem import Mode, Part
from board.planning.search.fires import Burning, Fire, Flags, Points, Slots, Way, ways
from board.planning.search.occupancy import Occupancy, Room
from board.planning.search.shapes import Shape


@dataclass(frozen=True)
class Chance:
    """A start of a mode that no limit forbids on its own, with the fire's way and the points it adds."""

    start: int
    way: Way
    points: float


class Judge:
    """One part before a partial plan; what several of its modes ask is worked out once."""

    def __init__(self, occupancy: Occupancy, part: Part) -> None:
        self.occupancy = occupancy
        self.part = part
        self.slots = occupancy.problem.frame.grid.slots
        self._taken: dict[tuple[str, int], Slots] = {}
        self._free: dict[tuple[str, int, int], Flags] = {}
        self._apart: dict[int, Flags] = {}
        self._aside: Flags | None = None

    def chances(self, mode: Mode, shape: Shape, below: float) -> Iterator[Chance]:
        """What is worth asking `fit` about, below so many points, the cheapest and latest first."""
        allowed = self._away_from_pit(shape) & self._room(mode, shape)
        starts = shape.starts[allowed]
        if not len(starts):
            return
        fire = self.occupancy.fire(mode.pit)
        asked = tuple(ways(fire.runs))
        points = np.array([self._burnt(fire, way, shape, starts) for way in asked]) + shape.points[allowed]
        way, at = np.nonzero(points < below)
        for i in np.lexsort((way, -starts[at], points[way, at])):
            yield Chance(int(starts[at[i]]), asked[way[i]], float(points[way[i], at[i]]))

    def _burnt(self, fire: Fire, way: Way, shape: Shape, starts: Slots) -> Points:
        """What a way adds at each start; infinite where the pit or the people cannot."""
        burning = fire.burning(way, shape.stay, starts)
        sound = burning.sound
        if sound.any():
            sound = sound & self._tended(fire, burning, shape, starts)
        return np.where(sound, burning.points, np.inf)

    def _tended(self, fire: Fire, burning: Burning, shape: Shape, starts: Slots) -> Flags:
        tend, room = fire.room.tend_percent, fire.room
        lights = self._free_for("light", room.light, tend)
        sound = ~burning.lights | lights[self._inside(burning.first)]
        if tend and "attention" not in self.occupancy.lifted:
            watched = self._short("attention", tend, self.occupancy.attention_left)
            sound &= self._clear(watched, burning.first, burning.until)
            sound &= self._clear(watched, burning.again, burning.last)
            if burning.way.how != "longer":
                sound &= self._hands(shape, starts, tend)
        return sound

    def _away_from_pit(self, shape: Shape) -> Flags:
        """Starts with hands for the work on the pit, and with bench and hold after it."""
        known = self._apart.get(id(shape))
        if known is None:
            known = (
                self._hands(shape, shape.starts, 0) & self._beside()[self._inside(shape.starts + shape.off)]
            )
            self._apart[id(shape)] = known
        return known

    def _hands(self, shape: Shape, starts: Slots, tend: int) -> Flags:
        free = np.ones(len(starts), np.bool_)
        for task in shape.work:
            length = task.end - task.begin
            if length > 0:
                free &= self._free_for(task.what, length, tend)[self._inside(starts + task.begin)]
        return free

    def _room(self, mode: Mode, shape: Shape) -> Flags:
        left = self.occupancy.pit_left[mode.spot]
        if "pit room" in self.occupancy.lifted:
            return np.ones(len(shape.starts), np.bool_)
        full = self._short(f"on {mode.spot}", self.part.area_cm2, left)
        return self._clear(full, shape.starts, shape.starts + shape.stay.size)

    def _beside(self) -> Flags:
        """Slots of pulling from which the bench and then the hold have room, one rest or another."""
        if self._aside is None:
            off = np.arange(self.slots)
            self._aside = np.zeros(self.slots, np.bool_)
            for rest in self._rests(off):
                self._aside |= self._rested(off, rest)
        return self._aside

    def _rests(self, off: Slots) -> Iterator[Slots]:
        part = self.part
        yield np.full_like(off, part.rest_min)
        yield np.minimum(np.maximum(part.wait_until - off, part.rest_min), part.rest_max)

    def _rested(self, off: Slots, rest: Slots) -> Flags:
        part, occupancy = self.part, self.occupancy
        end = off + rest
        found = part.wait_until - end <= part.hold_max
        if "bench" not in occupancy.lifted:
            full = self._short("bench", part.area_cm2, occupancy.bench_left)
            found = found & self._clear(full, off, end)
        if "hold" not in occupancy.lifted:
            full = self._short("hold", part.area_cm2, occupancy.hold_left)
            found = found & self._clear(full, end, np.maximum(end, part.wait_until))
        return found

    def _free_for(self, what: str, length: int, tend: int) -> Flags:
        """Slots from which somebody has hands and attention for a task beside a fire."""
        key = (what, length, tend)
        known = self._free.get(key)
        if known is None:
            known = self._free[key] = self._freed(what, length, tend)
        return known

    def _freed(self, what: str, length: int, tend: int) -> Flags:
        occupancy, begin = self.occupancy, np.arange(self.slots)
        free = np.ones(self.slots, np.bool_)
        if "hands" not in occupancy.lifted:
            for i, (kinds, left) in enumerate(occupancy.work.items()):
                if what in kinds:
                    free &= self._clear(self._short(f"hands {i}", 1, left), begin, begin + length)
        if "attention" not in occupancy.lifted:
            percent = occupancy.problem.frame.weights.task_attention_percent + tend
            watched = self._short("attention", percent, occupancy.attention_left)
            free &= self._clear(watched, begin, begin + length)
        return free

    def _short(self, name: str, need: int, left: Room) -> Slots:
        """Before each slot, how many slots have less left than is needed."""
        known = self._taken.get((name, need))
        if known is None:
            known = np.zeros(self.slots + 1, np.int64)
            np.cumsum(left < need, out=known[1:])
            self._taken[name, need] = known
        return known

    def _clear(self, short: Slots, begin: Slots, end: Slots) -> Flags:
        """Where every slot of [begin, end) has enough."""
        found: Flags = short[_between(end, self.slots)] <= short[_between(begin, self.slots)]
        return found

    def _inside(self, slots: Slots) -> Slots:
        return _between(slots, self.slots - 1)


def _between(slots: Slots, last: int) -> Slots:
    # np.clip looks its types up anew at each call, which takes longer than the work
    return np.maximum(0, np.minimum(slots, last))
