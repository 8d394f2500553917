"""What is taken: pits, hands, attention, bench and hold, slot by slot, as loads are placed one by one."""

from collections.abc import Iterable
from dataclasses import InitVar, dataclass, field

import numpy as np
from numpy.typing import NDArray

from board.planning.levels import drips, drips_beside
from board.planning.problem import (
    Assignment,
    Part,
    Placed,
    Problem,
    cooking,
    holding,
    part_points,
    phases,
    resting,
    run_points,
    tasks,
)
from board.planning.run import Run, Task
from board.planning.search.fires import Fire, Way, ways
from board.planning.search.shapes import Shapes
from board.planning.standing import left_over

Room = NDArray[np.int64]

# The limits a placement can break; each can be lifted, to find which one binds.
LIMITS = ("pit room", "level", "setpoint", "hands", "attention", "bench", "hold", "wait")
# The kinds of work on the pits.
KINDS = ("light", "load", "pull", "set", "wrap")


@dataclass(frozen=True)
class Fit:
    """A way to place a part: its place, the pit's runs then, and the points it adds."""

    placed: Placed
    runs: tuple[Run, ...]
    added: float


@dataclass
class Occupancy:
    """A partial plan: what is placed, and what is left of everything.

    `work` is how many people are left for each set of kinds of work that has a limit of its own. `lifted`
    names limits not to be kept: only the search for what binds lifts any.
    """

    problem: Problem
    lifted: frozenset[str] = frozenset()
    known: InitVar[Shapes | None] = None
    shapes: Shapes = field(init=False)
    placed: dict[str, Placed] = field(default_factory=dict)
    runs: dict[str, tuple[Run, ...]] = field(init=False)

    def __post_init__(self, known: Shapes | None) -> None:
        self.shapes = known or Shapes(self.problem)
        p, slots = self.problem.frame, self.problem.frame.grid.slots
        self.pit_left: dict[str, Room] = {
            key: left_over(spot.area_cm2, slots, p.taken.cooking[key]) for key, spot in p.spots.items()
        }
        self.work: dict[frozenset[str], Room] = {kinds: n.copy() for kinds, n in p.crew.limits(KINDS)}
        self.attention_left: Room = p.crew.attention(p.weights.task_attention_percent)
        self.bench_left: Room = left_over(p.bench_cm2, slots, p.taken.bench)
        self.hold_left: Room = left_over(p.hold_cm2, slots, p.taken.hold)
        self.meat: dict[str, dict[str, tuple[Part, Placed]]] = {pit: {} for pit in p.pits}
        self._do(p.taken.tasks, 1)
        self.runs = dict.fromkeys(p.pits, ())
        for pit, runs in p.taken.runs.items():
            self.burn(pit, runs)

    @property
    def hands_left(self) -> Room:
        """People left for work of any kind."""
        return self.work[max(self.work, key=len)]

    def assignment(self) -> Assignment:
        """The partial plan as a solution."""
        return Assignment(dict(self.placed), dict(self.runs))

    def fire(self, pit: str) -> Fire:
        """A pit's fires as they are."""
        return Fire(self.problem, pit, self.runs[pit], free="setpoint" in self.lifted)

    def fit(self, part: Part, at: Placed, way: Way | None = None) -> Fit | str:
        """How a part fits at a place, its pit burning the cheapest way or one way named, or why it cannot."""
        broken = self._room_broken(part, at)
        if broken:
            return broken
        fire, asked = self.fire(at.mode.pit), phases(part, at)
        burnt = [fire.burnt(w, asked) for w in (ways(fire.runs) if way is None else (way,))]
        sound = sorted(((self._burn_points(at.mode.pit, runs), runs) for runs in burnt if runs), key=_first)
        broken = "setpoint"
        for i, (cost, runs) in enumerate(sound):
            hindered = self._people_broken(part, at, runs)
            if hindered is None:
                return Fit(at, runs, part_points(self.problem, part, at) + cost - fire.points)
            broken = hindered if i == 0 else broken
        return broken

    def place(self, part: Part, fit: Fit) -> None:
        """Take the room a fit asks for."""
        self._take(part, fit.placed, 1)
        self.burn(fit.placed.mode.pit, fit.runs)
        self.placed[part.id] = fit.placed

    def take_off(self, part: Part) -> Placed:
        """Give back a part's room and hands; its fires burn on."""
        at = self.placed.pop(part.id)
        self._take(part, at, -1)
        return at

    def burn(self, pit: str, runs: tuple[Run, ...]) -> None:
        """Let a pit burn in these runs and no others."""
        if runs == self.runs[pit]:
            return
        self._tend(pit, self.runs[pit], -1)
        self._tend(pit, runs, 1)
        self.runs[pit] = runs

    def has_room(self, part: Part, at: Placed) -> bool:
        """Whether pit, bench and hold have room for a part at a place."""
        return self._room_broken(part, at) is None

    def _burn_points(self, pit: str, runs: tuple[Run, ...]) -> float:
        return sum(run_points(self.problem, pit, run) for run in runs)

    def _room_broken(self, part: Part, at: Placed) -> str | None:
        limits = (
            ("pit room", self.pit_left[at.mode.spot], *cooking(part, at)),
            ("bench", self.bench_left, *resting(part, at)),
            ("hold", self.hold_left, *holding(part, at)),
        )
        for name, left, begin, end in limits:
            if (
                name not in self.lifted
                and end > begin
                and left[begin:end].min(initial=part.area_cm2) < part.area_cm2
            ):
                return name
        begin, end = holding(part, at)
        if "wait" not in self.lifted and end - begin > part.hold_max:
            return "wait"
        return "level" if "level" not in self.lifted and self.dripping(part, at) else None

    def dripping(self, part: Part, at: Placed) -> bool:
        """Whether a bird would lie above other meat, this part or another being the bird."""
        frame = self.problem.frame
        here, (begin, end) = frame.spots[at.mode.spot], cooking(part, at)
        if here.pit not in self.shapes.levelled:
            return False
        for other, there in self.meat[here.pit].values():
            first, last = cooking(other, there)
            together = begin < last and first < end
            if together and drips(part, here, other, frame.spots[there.mode.spot]):
                return True
        return drips_beside(self.problem, part, at)

    def _people_broken(self, part: Part, at: Placed, runs: tuple[Run, ...]) -> str | None:
        asked = (*tasks(part, at), *lightings(self.problem, at.mode.pit, runs, self.runs[at.mode.pit]))
        if "hands" not in self.lifted and any(
            _overdrawn(left, [t for t in asked if t.what in kinds]) for kinds, left in self.work.items()
        ):
            return "hands"
        if "attention" in self.lifted:
            return None
        left = self._attention_after(at, runs, asked)
        overdrawn = (left < 0) & (left < self.attention_left)
        return "attention" if overdrawn.any() else None

    def _attention_after(self, at: Placed, runs: tuple[Run, ...], asked: Iterable[Task]) -> Room:
        left = self.attention_left.copy()
        for task in asked:
            left[task.begin : task.end] -= self.problem.frame.weights.task_attention_percent
        tend = self.problem.frame.pits[at.mode.pit].tend_percent
        for run in self.runs[at.mode.pit]:
            left[run.begin : run.end] += tend
        for run in runs:
            left[run.begin : run.end] -= tend
        return left

    def _take(self, part: Part, at: Placed, sign: int) -> None:
        self.pit_left[at.mode.spot][slice(*cooking(part, at))] -= sign * part.area_cm2
        self.bench_left[slice(*resting(part, at))] -= sign * part.area_cm2
        self.hold_left[slice(*holding(part, at))] -= sign * part.area_cm2
        self._do(tasks(part, at), sign)
        if sign > 0:
            self.meat[at.mode.pit][part.id] = part, at
        else:
            del self.meat[at.mode.pit][part.id]

    def _do(self, asked: Iterable[Task], sign: int) -> None:
        for task in asked:
            for kinds, left in self.work.items():
                if task.what in kinds:
                    left[task.begin : task.end] -= sign
            percent = self.problem.frame.weights.task_attention_percent
            self.attention_left[task.begin : task.end] -= sign * percent

    def _tend(self, pit: str, runs: tuple[Run, ...], sign: int) -> None:
        room = self.problem.frame.pits[pit]
        for run in runs:
            self.attention_left[run.begin : run.end] -= sign * room.tend_percent
        self._do(lightings(self.problem, pit, runs, ()), sign)


def lightings(problem: Problem, pit: str, runs: tuple[Run, ...], before: tuple[Run, ...]) -> list[Task]:
    """The work of lighting that these runs ask for and the runs before did not."""
    light = problem.frame.pits[pit].light
    lit = {run.begin for run in before if not run.chained}
    new = [run for run in runs if not run.chained and not run.known and run.begin not in lit]
    return [Task("light", run.begin, run.begin + light) for run in new]


def _overdrawn(left: Room, asked: list[Task]) -> bool:
    """Whether this work asks for more people than there are, its own overlaps counted."""
    if not asked:
        return False
    first, last = min(t.begin for t in asked), max(t.end for t in asked)
    after = left[first:last].copy()
    for task in asked:
        after[task.begin - first : task.end - first] -= 1
    return any(after[t.begin - first : t.end - first].min(initial=0) < 0 for t in asked if t.end > t.begin)


def _first(pair: tuple[float, tuple[Run, ...]]) -> float:
    return pair[0]
