"""Work at fixed times shared out among people, so that as little as can be is left to nobody."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field

# Choices gone through, at most, on one way through a group of jobs that meet.
CHOICES_MOST = 20_000


@dataclass(frozen=True, slots=True)
class Job:
    """Work through a half-open span of slots, and the row of whoever does it."""

    what: str
    begin: int
    end: int
    row: int | None = None


# Someone who can do a job: how well that suits, the least first, and their row.
Hand = tuple[tuple[int, ...], int]
Hands = Callable[[Job], Sequence[Hand]]


def shared_out(jobs: Sequence[Job], hands: Hands, *, choices_most: int = CHOICES_MOST) -> list[int | None]:
    """A row for each job, nobody asked to be in two places; None where nobody is left.

    As few are left to nobody as can be, while the choices last: jobs are gone through in order of time and
    back. Only who is still busy with what counts for those to come, so no such state is gone into twice.
    """
    rows: list[int | None] = [None] * len(jobs)
    for group in _meeting(jobs):
        here = [jobs[i] for i in group]
        for i, row in zip(group, _fewest_left(here, [hands(job) for job in here], choices_most), strict=True):
            rows[i] = row
    return rows


def _meeting(jobs: Sequence[Job]) -> Iterator[list[int]]:
    """Jobs in order of time, in groups that do not meet."""
    group: list[int] = []
    until = 0
    for i in sorted(range(len(jobs)), key=lambda i: (jobs[i].begin, jobs[i].end, jobs[i].what)):
        if group and jobs[i].begin >= until:
            yield group
            group, until = [], 0
        group.append(i)
        until = max(until, jobs[i].end)
    if group:
        yield group


def _fewest_left(jobs: Sequence[Job], hands: Sequence[Sequence[Hand]], choices: int) -> list[int | None]:
    best: list[int | None] = [None] * len(jobs)
    found = _Walk(jobs, hands, len(jobs)).through(choices)
    hopeless = sum(not able for able in hands)
    while found is not None:
        best = found
        fewer = best.count(None) - 1
        found = _Walk(jobs, hands, fewer).through(choices) if fewer >= hopeless else None
    return best


@dataclass
class _Walk:
    """A way through jobs in order of time that leaves at most `left` more of them to nobody."""

    jobs: Sequence[Job]
    hands: Sequence[Sequence[Hand]]
    left: int
    picks: list[int | None] = field(default_factory=list)
    until: dict[int, int] = field(default_factory=dict)
    worked: dict[int, int] = field(default_factory=dict)
    before: list[int] = field(default_factory=list)

    def through(self, choices: int) -> list[int | None] | None:
        """Who does each; None where there is no such way, or the choices do not reach to it."""
        failed: set[tuple[object, ...]] = set()
        open_ = [self._open()]
        for _ in range(choices):
            if len(self.picks) == len(open_):
                self._take_back()
            try:
                self._give(next(open_[-1]))
            except StopIteration:
                failed.add(self._state())
                open_.pop()
                if not open_:
                    return None
                continue
            if len(self.picks) == len(self.jobs):
                return self.picks
            if self._state() not in failed:
                open_.append(self._open())
        return None

    def _open(self) -> Iterator[int | None]:
        """Who could do the next job, whoever suits best and has done least first; then nobody."""
        at = len(self.picks)
        begin = self.jobs[at].begin
        free = [(suits, row) for suits, row in self.hands[at] if self.until.get(row, 0) <= begin]
        free.sort(key=lambda hand: (hand[0], self.worked.get(hand[1], 0), hand[1]))
        nobody: list[int | None] = [None] if self.left > 0 else []
        return iter([*(row for _, row in free), *nobody])

    def _state(self) -> tuple[object, ...]:
        begin = self.jobs[len(self.picks)].begin
        busy = sorted((row, end) for row, end in self.until.items() if end > begin)
        return len(self.picks), self.left, *busy

    def _give(self, row: int | None) -> None:
        job = self.jobs[len(self.picks)]
        self.picks.append(row)
        if row is None:
            self.left -= 1
            self.before.append(0)
            return
        self.before.append(self.until.get(row, 0))
        self.until[row] = job.end
        self.worked[row] = self.worked.get(row, 0) + job.end - job.begin

    def _take_back(self) -> None:
        row, before = self.picks.pop(), self.before.pop()
        job = self.jobs[len(self.picks)]
        if row is None:
            self.left += 1
            return
        self.until[row] = before
        self.worked[row] -= job.end - job.begin
