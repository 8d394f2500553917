"""What a search tells while it runs: the best plan's points, and a bound that rises beside it."""

from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass, field
from itertools import islice
from threading import Lock

from board.planning.problem import Problem
from board.planning.search.progress import Progress, Stop, Watcher

# One step of the bound for so many seconds of search, so that the same question has the same bound.
_SECONDS_A_STEP = 2.0


@dataclass
class Watch:
    """The best points and the highest bound so far, told whenever either moves."""

    tell: Watcher
    stopped: Stop
    cost: float = float("inf")
    bound: float = 0.0
    stage: str = "first plan"
    lock: Lock = field(default_factory=Lock, repr=False)

    def better(self, cost: float) -> None:
        """A plan of so many points is there; the first of all is told too."""
        with self.lock:
            if cost < self.cost:
                self.cost = cost
                self.tell(Progress(cost, min(self.bound, cost), self.stage))
                self.stage = "better plan"

    def higher(self, bound: float) -> None:
        """No plan has fewer points than this."""
        with self.lock:
            if bound > self.bound:
                self.bound = bound
                self.tell(Progress(self.cost, min(bound, self.cost), "nearer proof"))

    def whole(self, cost: float, bound: float) -> None:
        """The search over the whole problem has a better plan, and a bound of its own."""
        self.bound = max(self.bound, bound)
        self.better(cost)

    def again(self) -> "Watch":
        """The same watcher for a problem cut anew, whose points are others."""
        return Watch(self.tell, self.stopped, stage="cut smaller")


class Bounds:
    """The rising bounds of a problem, drawn in a thread beside the search: as many as its seconds allow."""

    def __init__(self, problem: Problem, watch: Watch, *, seed: int, seconds: float) -> None:
        self._watch = watch
        steps = 1 + int(seconds / _SECONDS_A_STEP)
        beside = ThreadPoolExecutor(max_workers=1)
        self._drawn: Future[float] = beside.submit(self._draw, problem, seed, steps)
        beside.shutdown(wait=False)

    def _draw(self, problem: Problem, seed: int, steps: int) -> float:
        from board.planning.bound.rising import rising_bounds  # noqa: PLC0415 - the solver takes 0.4 s to import

        highest = 0.0
        for bound in islice(rising_bounds(problem, seed=seed), steps):
            highest = max(highest, bound)
            self._watch.higher(highest)
            if self._watch.stopped():
                break
        return highest

    def highest(self) -> float:
        """The highest bound, waiting for the last; what is there already, where the search is stopped.

        Raises:
            Exception: what went wrong while they were drawn, as far as that is known.
        """
        if not self._watch.stopped():
            return self._drawn.result()
        if self._drawn.done():
            self._drawn.result()
        return self._watch.bound
