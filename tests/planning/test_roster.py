"""Who does what: what can be shared out is shared out, in whatever order it is given."""

from random import Random

import numpy as np
from hypothesis import assume, example, given
from hypothesis import strategies as st

from board.house.model import Person
from board.planning.crew import Crew
from board.planning.roster import Roster
from board.planning.run import Task

SLOTS = 60
TASKS = st.lists(st.tuples(st.integers(0, 50), st.integers(1, 8)), max_size=14)


def crew_of(count):
    """So many people who do anything and are always there."""
    present = np.ones((count, SLOTS), dtype=np.bool_)
    return Crew(tuple(Person(f"p{n}", f"P{n}") for n in range(count)), present, np.zeros_like(present))


def who(roster, what, begin, slots):
    """The person who is given a step."""
    return roster.who(roster.give(what, begin, slots))


@given(TASKS, st.integers(1, 3), st.randoms(use_true_random=False))
@example([(21, 1), (20, 1), (20, 2)], 2, Random(5))
def test_work_that_people_can_share_is_shared_in_any_order(spans, count, random):
    """Where no more tasks meet than there are people, each gets someone, and nobody two at once."""
    tasks = [Task("load", begin, begin + size) for begin, size in spans]
    assume(all(sum(t.begin <= slot < t.end for t in tasks) <= count for slot in range(SLOTS)))
    roster = Roster(crew_of(count))
    roster.deal(tasks)
    random.shuffle(tasks)
    given_to = [who(roster, t.what, t.begin, t.end - t.begin) for t in tasks]
    assert None not in given_to
    assert int(roster.busy.sum()) == sum(t.end - t.begin for t in tasks)


def test_a_fire_given_first_leaves_a_hand_to_pull():
    """Of Ann and Bo, one pulls pork from 0 to 2 and one hams from 1 to 3; only the first can light at 2.

    Given first and to the first who is free, the lighting takes Ann; then pork takes Ann too, for she is
    free until 2, hams take Bo, and all is well; had pork gone to Bo, nobody would pull the hams.
    """
    tasks = [Task("pull", 0, 2), Task("pull", 1, 3), Task("light", 2, 6)]
    roster = Roster(crew_of(2))
    roster.deal(tasks)
    light = who(roster, "light", 2, 4)
    pork, hams = who(roster, "pull", 0, 2), who(roster, "pull", 1, 2)
    assert light == pork
    assert hams not in {None, pork}


def test_whoever_goes_soonest_is_asked_first():
    """Work both can do falls to the one who is about to leave: the other is there for what comes after."""
    crew = crew_of(2)
    crew.present[1, 4:] = False
    roster = Roster(crew)
    roster.deal([Task("pull", 0, 3), Task("pull", 2, 6)])
    assert who(roster, "pull", 0, 3) == "p1"
    assert who(roster, "pull", 2, 4) == "p0"
