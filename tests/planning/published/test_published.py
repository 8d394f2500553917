"""The core that the pit plan is posted through solves published cases to their known best."""

import numpy as np
import pytest

from board.planning.core.activity import Mode
from board.planning.core.project import Lag, Project, Work, shortest
from board.planning.core.search import Effort
from tests.planning.published.judge import broken
from tests.planning.published.readers import flexible, job_shop, psplib, with_lags

EFFORT = Effort(seconds=30)


@pytest.mark.parametrize(("name", "best"), [("ft06", 55), ("la01", 666)])
def test_a_job_shop_is_solved_to_its_published_best(name, best):
    """Optima: Muth and Thompson 1963 and Lawrence 1984, as in data/SOURCES.md."""
    project = job_shop(name)
    schedule = shortest(project, EFFORT)
    assert (schedule.cost, schedule.proved) == (best, True)
    assert broken(project, schedule) == []


def test_a_job_shop_with_a_choice_of_machines_is_solved_to_its_published_best():
    """Brandimarte 1993, mk01: 40. The numbers are from memory, as data/SOURCES.md tells, with its counts."""
    project = flexible("mk01")
    assert (len(project.works), sum(len(work.modes) for work in project.works.values())) == (55, 115)
    schedule = shortest(project, EFFORT)
    assert (schedule.cost, schedule.proved) == (40, True)
    assert broken(project, schedule) == []


def test_a_project_with_cumulative_resources_is_solved_to_its_published_best():
    """PSPLIB j301_1 takes 43 (data/SOURCES.md)."""
    project = psplib("j301_1.sm")
    schedule = shortest(project, EFFORT)
    assert (schedule.cost, schedule.proved) == (43, True)
    assert broken(project, schedule) == []
    assert max(end for _, end in schedule.spans.values()) == 43


def test_with_two_of_each_machine_the_longest_job_is_the_best():
    """ft06's second job takes 8+5+10+10+10+4 = 47: no less is possible, and it is met."""
    project = job_shop("ft06", copies=2)
    schedule = shortest(project, EFFORT)
    assert (schedule.cost, schedule.proved) == (47, True)
    assert broken(project, schedule) == []


def test_a_project_whose_lags_and_resources_clash_is_proved_impossible():
    """A published RCPSP/max case, ubo10_01: works 5 and 6 start at most 5 apart and take 9 and 10 each.

    They ask for 8 and 9 of the 10 there are of one resource, so that they cannot overlap either.
    """
    schedule = shortest(with_lags("ubo10_01.sch"), EFFORT)
    assert schedule.impossible


def test_a_longest_time_holds_back_what_comes_first():
    """Argued by hand: b starts 3 to 4 after a; one hand does b and c, one at a time.

    a, of 1, starts at 0 and b, of 2, at 3: c waits until 5 and ends at 10. With c first, b starts at 5, a at
    1 at the earliest, and all ends at 7.
    """
    works = {"a": Work((Mode(1),)), "b": Work((Mode(2, {"hand": 1}),)), "c": Work((Mode(5, {"hand": 1}),))}
    project = Project(works, {"hand": 1}, [Lag("a", "b", 3, most=4)], horizon=20)
    schedule = shortest(project, EFFORT)
    assert (schedule.cost, schedule.proved) == (7, True)
    assert (schedule.spans["b"], schedule.spans["c"]) == ((5, 7), (0, 5))
    assert 1 <= schedule.spans["a"][0] <= 2
    assert broken(project, schedule) == []


def test_resources_that_change_modes_and_leaving_out_are_weighed_together():
    """Argued by hand: one hand is there from 0 to 4 and from 6 to 10, two jobs of 4 and 5 slots want it.

    The job of 5 fits neither stretch; done slower by another way it needs no hand and takes 9, and leaving it
    out costs 20. The job of 4 may start on even slots only and goes first: makespan 9, nothing left out.
    """
    hand = np.array([1, 1, 1, 1, 0, 0, 1, 1, 1, 1])
    works = {
        "four": Work((Mode(4, {"hand": 1}, starts=(0, 2, 4, 6)),)),
        "five": Work((Mode(5, {"hand": 1}), Mode(9)), costs=(0, 0), skipped=20),
    }
    project = Project(works, {"hand": hand}, horizon=10)
    schedule = shortest(project, EFFORT)
    assert (schedule.cost, schedule.proved, schedule.modes["five"]) == (9, True, 1)
    assert broken(project, schedule) == []
