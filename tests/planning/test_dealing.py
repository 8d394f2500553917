"""Work shared out exactly: no more is left to nobody than any assignment would leave."""

from functools import cache

import numpy as np
from hypothesis import example, given
from hypothesis import strategies as st

from board.house.model import Person
from board.planning.crew import Crew
from board.planning.roster import Roster
from board.planning.run import Task

SLOTS = 16
KINDS = ("light", "load", "pull")
PEOPLE = st.lists(
    st.tuples(
        st.sets(st.sampled_from(KINDS)), st.integers(0, 6), st.integers(8, SLOTS), st.integers(0, SLOTS)
    ),
    min_size=1,
    max_size=4,
)
WORK = st.lists(st.tuples(st.sampled_from(KINDS), st.integers(0, 12), st.integers(1, 4)), max_size=7)


def crew_of(people):
    """People of (kinds of work, first slot, last, slot of a break)."""
    present = np.zeros((len(people), SLOTS), dtype=np.bool_)
    for row, (_, first, last, pause) in enumerate(people):
        present[row, first:last] = True
        present[row, pause : pause + 1] = False
    each = tuple(Person(f"p{n}", f"P{n}", frozenset(can)) for n, (can, *_) in enumerate(people))
    return Crew(each, present, np.zeros_like(present))


def least_bare(crew, work):
    """The fewest pieces of work left to nobody, by trying every person and nobody for each."""

    def does(person, what):
        return not person.can or what in person.can

    @cache
    def left(n, taken):
        if n == len(work):
            return 0
        what, begin, size = work[n]
        best = 1 + left(n + 1, taken)
        for row, person in enumerate(crew.people):
            slots = frozenset((row, slot) for slot in range(begin, begin + size))
            there = begin + size <= SLOTS and all(crew.present[row, begin : begin + size])
            if does(person, what) and there and not slots & taken:
                best = min(best, left(n + 1, taken | slots))
        return best

    return left(0, frozenset())


def check(crew, roster, numbers):
    """Everyone is there, able, and in one place at a time, and the roster knows when they are busy."""
    busy = np.zeros_like(crew.present)
    for number in numbers:
        job = roster.jobs[number]
        if job.row is None:
            continue
        can = crew.people[job.row].can
        assert not can or job.what in can
        assert crew.present[job.row, job.begin : job.end].all()
        assert not busy[job.row, job.begin : job.end].any()
        busy[job.row, job.begin : job.end] = True
    assert (busy == roster.busy).all()


@given(PEOPLE, WORK)
@example(  # the second is all who can light and pull: given the load, the light and the pull go undone
    [({"load"}, 0, 16, 0), (set(), 0, 16, 15)], [("load", 1, 3), ("light", 2, 2), ("load", 4, 1)]
)
def test_no_more_is_left_to_nobody_than_must_be(people, work):
    """Dealt at once, whatever skills, shifts and breaks: as few are left as the best assignment leaves."""
    crew = crew_of(people)
    roster = Roster(crew)
    roster.deal([Task(what, begin, begin + size) for what, begin, size in work])
    numbers = [roster.give(*each) for each in work]
    assert sorted(numbers) == list(range(len(work)))
    check(crew, roster, numbers)
    assert sum(roster.who(number) is None for number in numbers) == least_bare(crew, tuple(work))


@given(PEOPLE, WORK)
def test_what_comes_one_by_one_finds_a_hand_where_all_could(people, work):
    """Steps given one after the other take work over from each other: where all can be done, all are."""
    crew = crew_of(people)
    roster = Roster(crew)
    numbers = [roster.give(*each) for each in work]
    check(crew, roster, numbers)
    if least_bare(crew, tuple(work)) == 0:
        assert None not in [roster.who(number) for number in numbers]


@given(PEOPLE, WORK, st.sampled_from(KINDS), st.integers(1, 3), st.sets(st.integers(0, SLOTS - 1)))
def test_a_step_that_may_move_finds_a_time_wherever_there_is_one(people, work, what, size, allowed):
    """Of the times allowed, one at which all else that has a hand keeps one; None where there is none."""
    crew = crew_of(people)
    roster = Roster(crew)
    roster.deal([Task(kind, begin, begin + length) for kind, begin, length in work])
    before = sum(job.row is None for job in roster.jobs)
    done = tuple((job.what, job.begin, job.end - job.begin) for job in roster.jobs if job.row is not None)
    flags = np.array([slot in allowed for slot in range(SLOTS)])
    slot = roster.latest(what, size, flags, SLOTS - 1)
    could = [s for s in allowed if least_bare(crew, (*done, (what, s, size))) == 0]
    assert (slot is None) == (not could)
    if slot is not None:
        assert slot in could
        assert roster.who(roster.give(what, slot, size)) is not None
    assert sum(job.row is None for job in roster.jobs) == before


def test_who_had_it_before_keeps_it_unless_something_else_finds_nobody():
    """Ann alone lights, Bo loads; Ann loaded before: she keeps the load, but for a fire."""
    crew = crew_of([({"light", "load"}, 0, 16, 15), ({"load"}, 0, 16, 15)])
    roster = Roster(crew)
    kept = roster.keep("load", 2, 5, 0)
    assert roster.who(kept) == "p0"
    roster.deal([Task("light", 3, 4)])
    assert roster.who(roster.give("light", 3, 1)) == "p0"
    assert roster.who(kept) == "p1"
