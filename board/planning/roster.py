"""Who does what: each step is given to one person, and nobody is asked to be in two places."""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from board.planning.crew import Crew, Flags, throughout
from board.planning.dealing import Hand, Job, shared_out
from board.planning.run import Task

# Work that slips is put off by so many slots at most: an hour.
_WITHIN = 12
# Work within so many slots of a step may go to someone else so that the step gets a hand: two hours.
_NEAR = 24
# So many moments at most are tried so, and so many choices at each.
_MOMENTS_MOST, _CHOICES_MOST = 96, 2_000


@dataclass
class Roster:
    """The crew's time as it is given away. Who has a job is final only when all have been given.

    `wanted` are the kind of work, slot and row of people who should do it again if they can. A job is known
    by its number.
    """

    crew: Crew
    wanted: frozenset[tuple[str, int, int]] = frozenset()
    jobs: list[Job] = field(default_factory=list, init=False)
    busy: Flags = field(init=False)
    # jobs dealt and not yet given, by what and when they are
    _dealt: dict[tuple[str, int, int], list[int]] = field(default_factory=dict, init=False)

    def __post_init__(self) -> None:
        self.busy = self.crew.busy.copy()

    def copy(self) -> "Roster":
        """A roster as it is now, to try what may be dropped."""
        twin = replace(self)
        twin.jobs, twin.busy = self.jobs.copy(), self.busy.copy()
        twin._dealt = {asked: numbers.copy() for asked, numbers in self._dealt.items()}
        return twin

    def deal(self, tasks: Iterable[Task]) -> None:
        """Share out all work at fixed times at once, so that as little as can be is left to nobody.

        Where several can, whoever is wanted does it, else the least widely able, else who leaves first.
        """
        jobs = [Job(task.what, task.begin, max(task.end, task.begin + 1)) for task in tasks]
        rows = shared_out(jobs, self._soonest_gone)
        pairs = list(zip(jobs, rows, strict=True))
        dealt = [(job, self._booked(replace(job, row=row))) for job, row in pairs if row is not None]
        dealt += [(job, self._taken(job)) for job, row in pairs if row is None]
        for job, number in dealt:
            self._dealt.setdefault((job.what, job.begin, job.end), []).append(number)

    def give(self, what: str, begin: int, slots: int) -> int:
        """Give a step at a fixed time to someone, as it was dealt if it was."""
        asked = what, begin, begin + max(1, slots)
        if self._dealt.get(asked):
            return self._dealt[asked].pop(0)
        return self._taken(Job(*asked))

    def keep(self, what: str, begin: int, end: int, row: int) -> int:
        """Give a step to one person, who keeps it unless other work then finds nobody."""
        return self._booked(Job(what, begin, end, row))

    def leave(self, what: str, begin: int, slots: int) -> int:
        """A step at a time at which nobody does it."""
        return self._booked(Job(what, begin, begin + max(1, slots)))

    def who(self, number: int) -> str | None:
        """The person who has a job; None if nobody."""
        row = self.jobs[number].row
        return None if row is None else self.crew.people[row].id

    def bare(self) -> int:
        """How many jobs nobody has."""
        return sum(job.row is None for job in self.jobs)

    def free(self, what: str, slots: int) -> Flags:
        """Slots at which someone could begin this work and do it to the end."""
        found = np.zeros(self.crew.present.shape[1], dtype=np.bool_)
        for row in self.crew.able(what):
            found |= throughout(self.crew.present[row] & ~self.busy[row], slots)
        return found

    def latest(self, what: str, slots: int, allowed: Flags, last: int) -> int | None:
        """The latest allowed slot, no later than `last`, at which someone is free for this work.

        Where nobody is, the latest at which someone would be if others did what they have in hand.
        """
        slots = max(1, slots)
        found = np.flatnonzero((allowed & self.free(what, slots))[: last + 1])
        if len(found):
            return int(found[-1])
        maybe = np.flatnonzero((allowed & self.loose().someone(what, slots))[: last + 1])
        tried = (int(slot) for slot in maybe[::-1][:_MOMENTS_MOST])
        return next((slot for slot in tried if self._swapped(Job(what, slot, slot + slots))), None)

    def soonest(self, what: str, slots: int, first: int) -> int | None:
        """The first slot from `first` on, within the hour, at which someone is free for this work."""
        found = np.flatnonzero(self.free(what, max(1, slots))[first : first + _WITHIN])
        return first + int(found[0]) if len(found) else None

    def open(self, row: int, begin: int, end: int) -> bool:
        """Whether one person, by row, is there and free in all of these slots."""
        if begin < 0 or end > self.busy.shape[1]:
            return False
        return bool(self.crew.present[row, begin:end].all() and not self.busy[row, begin:end].any())

    def tight(self) -> Crew:
        """The crew less what is given away, as it is."""
        return replace(self.crew, busy=self.busy)

    def loose(self) -> Crew:
        """The crew where anyone may do anyone's work: busy where there are no more people than jobs."""
        jobs = self.busy.sum(axis=0) - self.crew.busy.sum(axis=0)
        full = self.crew.hands <= jobs
        return replace(self.crew, busy=self.crew.busy | full)

    def _booked(self, job: Job) -> int:
        if job.row is not None:
            self.busy[job.row, job.begin : job.end] = True
        self.jobs.append(job)
        return len(self.jobs) - 1

    def _taken(self, job: Job) -> int:
        """A job given to whom it suits best of those who are free, or could be if others did their work."""
        hands = self._hands(job)
        if not hands and self._swapped(job):
            hands = self._hands(job)
        ranked = sorted((suits, int(self.busy[row].sum()), row) for suits, row in hands)
        return self._booked(replace(job, row=ranked[0][2] if ranked else None))

    def _swapped(self, job: Job) -> bool:
        """Whether someone is free for a job once others take over work near it; they then have it."""
        near = [
            number
            for number, other in enumerate(self.jobs)
            if other.row is not None and other.begin < job.end + _NEAR and job.begin - _NEAR < other.end
        ]
        held = self.busy.copy()
        for number in near:
            other = self.jobs[number]
            held[other.row, other.begin : other.end] = False
        asked = [*(self.jobs[number] for number in near), job]
        rows = shared_out(asked, lambda j: self._stays(j, held), choices_most=_CHOICES_MOST)
        if None in rows:
            return False
        for number, row in zip(near, rows, strict=False):
            other = self.jobs[number] = replace(self.jobs[number], row=row)
            held[row, other.begin : other.end] = True
        self.busy = held
        return True

    def _soonest_gone(self, job: Job) -> list[Hand]:
        """Who could do a job, among those as suited whoever goes off shift or on a break soonest."""
        return [((*suits, int(self._gone[row, job.end])), row) for suits, row in self._hands(job)]

    def _stays(self, job: Job, held: Flags) -> list[Hand]:
        """Who could do a job, whoever has it first."""
        return [((row != job.row, *suits), row) for suits, row in self._hands(job, held)]

    def _hands(self, job: Job, busy: Flags | None = None) -> list[Hand]:
        """Who is there, able and free for a job, and how well it suits them."""
        busy = self.busy if busy is None else busy
        if job.begin < 0 or job.end > busy.shape[1]:
            return []
        free = self.crew.present[:, job.begin : job.end] & ~busy[:, job.begin : job.end]
        rows = [row for row in self.crew.able(job.what) if free[row].all()]
        wanted = self.wanted
        return [(((job.what, job.begin, row) not in wanted, self._widths[row]), row) for row in rows]

    @cached_property
    def _widths(self) -> list[int]:
        """How many kinds of work each person does; who does anything comes last."""
        return [len(person.can) if person.can else 1_000 for person in self.crew.people]

    @cached_property
    def _gone(self) -> NDArray[np.int64]:
        """The first slot from each on in which a person is not there."""
        people, slots = self.crew.present.shape
        away = np.where(self.crew.present, slots, np.arange(slots))
        first = np.minimum.accumulate(away[:, ::-1], axis=1)[:, ::-1]
        return np.hstack([first, np.full((people, 1), slots)])
