"""Better a plan of any size: take some loads off a few pits and place them again in another order.

Ruin and recreate (Schrimpf, Schneider, Stamm-Wilbrandt and Dueck 2000, J. Comput. Phys. 159:139, from
memory). A turn touches a few pits and takes as long in a large house as in a small one. What it leads to is
kept where it is no dearer, or dearer by a little that shrinks to nothing; the cheapest plan seen is given.
"""

from collections.abc import Callable, Set
from dataclasses import dataclass, field
from random import Random

from board.planning.doors import too_often
from board.planning.problem import Assignment, Part, Placed, Problem, part_points, points, run_points
from board.planning.run import Run
from board.planning.search.insertion import cheapest_fit
from board.planning.search.occupancy import Fit, Occupancy
from board.planning.search.orders import MORE_ORDERS, cook_slots
from board.planning.search.rounds import Budget
from board.planning.search.sound import is_sound
from board.planning.search.tidy import occupied, trim

# So many pits are touched in a turn, and from so few to so many loads are taken off them.
_PITS, _OFF_LEAST, _OFF_MOST = 3, 3, 12
# So many of the loads left out are tried in a turn.
_LEFT_OUT_MOST = 6
# A turn may make the plan dearer by this share at first, less and less until the end.
_DEARER = 3e-4
# Seconds it takes to place a part again on a pit, about; what a turn takes is counted by them.
_SECONDS_A_PIT = 0.2e-3
# Loads near in time are taken off together, but for so many slots by chance.
_NEAR_SLOTS = 20


def recreated(
    problem: Problem,
    plan: Assignment,
    budget: Budget,
    tell: Callable[[float], None],
    pits: Set[str] | None = None,
) -> Assignment:
    """The plan after as many turns as the budget allows; never a dearer one.

    Args:
        tell: told the points of each better plan.
        pits: the only pits to touch; without any, all of them.
    """
    turns = _Turns(problem, plan, Random(budget.seed), pits)
    if not turns.parts:
        return plan
    best, least, seconds = plan, turns.cost, 0.0
    while seconds < budget.seconds and not budget.stopped:
        left_over = 1 - seconds / budget.seconds
        seconds += turns.turn(_DEARER * left_over * turns.cost) * _SECONDS_A_PIT
        if turns.cost < least - 1e-6:
            best, least = turns.left.assignment(), turns.cost
            tell(least)
    return best if is_sound(problem, best) else plan


@dataclass(frozen=True)
class _Ruined:
    """What a turn took off: the pits with their fires, and the parts with their places, as they were."""

    fires: dict[str, tuple[Run, ...]]
    parts: dict[str, tuple[Part, Placed]]


@dataclass
class _Turns:
    """A plan that is changed turn by turn, and what it costs."""

    problem: Problem
    plan: Assignment
    random: Random
    within: Set[str] | None
    left: Occupancy = field(init=False)
    cost: float = field(init=False)

    def __post_init__(self) -> None:
        self.left = occupied(self.problem, self.plan)
        self.cost = points(self.problem, self.plan)
        self.offered = {part.id: self._offered(part) for part in self.problem.parts}
        self.parts = [part for part in self.problem.parts if self.offered[part.id] and self._ours(part)]
        self.out = {part.id: part for part in self.parts if part.id not in self.plan.placed}

    def _offered(self, part: Part) -> list[str]:
        """The pits it could be on, of those to be touched."""
        pits = sorted({mode.pit for mode in part.modes if mode.starts})
        return [pit for pit in pits if self.within is None or pit in self.within]

    def _ours(self, part: Part) -> bool:
        """Whether it is on a pit to be touched, or on none."""
        at = self.plan.placed.get(part.id)
        return at is None or self.within is None or at.mode.pit in self.within

    def turn(self, dearer: float) -> int:
        """Take off, place again, and keep or undo it; how many parts were placed again, times their pits."""
        seed = self._seed()
        pits = self._pits(seed)
        ruined = self._ruined(seed, pits)
        again = self._again(ruined, set(pits))
        before, oftener = self._points(again, pits), self._too_often(pits)
        self._ruin(ruined)
        for part in self.random.choice(MORE_ORDERS)(again):
            fit = cheapest_fit(self.left, part, pits)
            if fit is not None:
                self.left.place(part, fit)
        added = self._points(again, pits) - before
        if added <= dearer * self.random.random() and self._too_often(pits) <= oftener:
            self.cost += added
            self._count_out(again)
        else:
            self._undo(ruined, again)
        return len(again) * len(pits)

    def _too_often(self, pits: list[str]) -> int:
        """Openings of these pits' doors beyond those reckoned with."""
        return sum(too_often(self.problem, pit, self.left.meat[pit].values()) for pit in pits)

    def _seed(self) -> Part:
        """A part left out as often as not, where there is one."""
        if self.out and self.random.random() < 0.5:
            return self.random.choice(list(self.out.values()))
        return self.random.choice(self.parts)

    def _pits(self, seed: Part) -> list[str]:
        """The seed's pit and others it could be on."""
        offered, at = self.offered[seed.id], self.left.placed.get(seed.id)
        pits = self.random.sample(offered, min(_PITS, len(offered)))
        if at is not None and at.mode.pit not in pits:
            pits[0] = at.mode.pit
        return pits

    def _ruined(self, seed: Part, pits: list[str]) -> _Ruined:
        """Parts on these pits that are on at about the seed's time."""
        its = self.left.placed.get(seed.id)
        when = seed.ready_by - cook_slots(seed) if its is None else its.start
        meat = {part.id: (part, at) for pit in pits for part, at in self.left.meat[pit].values()}
        away = {i: abs(at.start - when) + _NEAR_SLOTS * self.random.random() for i, (_, at) in meat.items()}
        off = sorted(away, key=away.__getitem__)[: self.random.randint(_OFF_LEAST, _OFF_MOST)]
        return _Ruined(
            {pit: self.left.runs[pit] for pit in pits}, {part_id: meat[part_id] for part_id in off}
        )

    def _again(self, ruined: _Ruined, pits: Set[str]) -> list[Part]:
        """What is placed again: the parts taken off, and some left out that could go there."""
        out = [part for part in self.out.values() if not pits.isdisjoint(self.offered[part.id])]
        some = self.random.sample(out, min(_LEFT_OUT_MOST, len(out)))
        return [*(part for part, _ in ruined.parts.values()), *some]

    def _ruin(self, ruined: _Ruined) -> None:
        for part, _ in ruined.parts.values():
            self.left.take_off(part)
        for pit in ruined.fires:
            trim(self.left, pit)

    def _undo(self, ruined: _Ruined, again: list[Part]) -> None:
        for part in again:
            if part.id in self.left.placed:
                self.left.take_off(part)
        for pit, runs in ruined.fires.items():
            self.left.burn(pit, runs)
        for part, at in ruined.parts.values():
            self.left.place(part, Fit(at, self.left.runs[at.mode.pit], 0.0))

    def _count_out(self, again: list[Part]) -> None:
        for part in again:
            if part.id in self.left.placed:
                self.out.pop(part.id, None)
            else:
                self.out[part.id] = part

    def _points(self, parts: list[Part], pits: list[str]) -> float:
        """What these parts and the fires of these pits cost now."""
        meat = sum(part_points(self.problem, part, self.left.placed.get(part.id)) for part in parts)
        return meat + sum(run_points(self.problem, pit, run) for pit in pits for run in self.left.runs[pit])
