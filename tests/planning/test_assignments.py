"""The check of solutions finds each kind of fault planted in a sound one."""

from dataclasses import replace

import pytest

from board.planning.problem import Assignment
from tests.planning.assignments import assignment_faults
from tests.planning.baseline import back_scheduled
from tests.planning.test_bound import problem_of


@pytest.fixture(scope="module")
def problem(two_fires):
    """The problem of the house written by hand."""
    return problem_of(two_fires, {})


@pytest.fixture(scope="module")
def plan(problem):
    """A sound plan of it."""
    return back_scheduled(problem)


def moved(plan, name, **changes):
    """The plan with one placed part changed."""
    return Assignment({**plan.placed, name: replace(plan.placed[name], **changes)}, plan.runs)


def burning(plan, change):
    """The plan with every fire changed."""
    return Assignment(plan.placed, {pit: tuple(map(change, runs)) for pit, runs in plan.runs.items()})


def test_a_sound_plan_has_no_fault(problem, plan):
    """There is nothing to find before anything is planted."""
    assert plan.placed
    assert assignment_faults(problem, plan) == []


@pytest.mark.parametrize(
    ("told", "change"),
    [
        ("may not start", lambda p, name: moved(p, name, start=p.placed[name].start + 500)),
        ("rests", lambda p, name: moved(p, name, rest=10_000)),
        ("no such mode", lambda p, name: moved(p, name, mode=replace(p.placed[name].mode, d50=1))),
        ("asks for", lambda p, _: burning(p, lambda run: replace(run, end=run.end - 1))),
        ("asks for", lambda p, _: burning(p, lambda run: replace(run, setpoint_c=run.setpoint_c + 1))),
        ("is cold", lambda p, _: burning(p, lambda run: replace(run, begin=run.begin + 1))),
        ("from nothing", lambda p, _: burning(p, lambda run: replace(run, chained=True))),
        ("no part", lambda p, name: Assignment({**p.placed, "ghost": p.placed[name]}, p.runs)),
    ],
)
def test_a_planted_fault_is_told(problem, plan, told, change):
    """Starts, rests, modes and fires that break a rule are each named."""
    name = min(plan.placed)
    assert any(told in fault for fault in assignment_faults(problem, change(plan, name)))


@pytest.mark.parametrize(
    ("told", "narrowed"),
    [
        ("hold is over full", lambda f: replace(f, hold_cm2=1)),
        ("bench is over full", lambda f: replace(f, bench_cm2=1)),
        ("over full", lambda f: replace(f, spots={k: replace(s, area_cm2=1) for k, s in f.spots.items()})),
        ("nobody for", lambda f: replace(f, crew=replace(f.crew, busy=f.crew.present))),
        ("too few watch", lambda f: replace(f, crew=replace(f.crew, present=f.crew.present & False))),
        ("out of use", lambda f: replace(f, pits={k: shut(room) for k, room in f.pits.items()})),
        ("in the past", lambda f: replace(f, outset=replace(f.outset, earliest=f.grid.slots))),
    ],
)
def test_a_plan_for_more_than_there_is_is_told(problem, plan, told, narrowed):
    """The same plan in a house with less of one thing is faulty, and the thing is named."""
    narrow = replace(problem, frame=narrowed(problem.frame))
    assert any(told in fault for fault in assignment_faults(narrow, plan))


def shut(room):
    """A pit that never burns."""
    return replace(room, shut=room.shut | True)
