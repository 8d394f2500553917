"""A draft beside the committed plan: what moved and by how much, whatever became of the loads."""

from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from board.planning.plan import Plan, PlannedLoad, Risk, Short
from board.views.comparing import Comparison, comparison, summary
from board.views.comparing_tables import also_table, figures_table, pairs_table
from board.views.pinning import service_lines
from board.views.table import body_lines
from tests.app.house_fixture import DAY, plan
from tests.views.facts_fixture import facts

COMMITTED = plan()
HOUR = timedelta(hours=1)


def compared(*loads: PlannedLoad, **changes: object) -> Comparison:
    """The fixture's Saturday beside a draft with these loads."""
    view = comparison(facts(), replace(COMMITTED, loads=loads, **changes), DAY)
    assert view is not None
    return view


def load(id: str) -> PlannedLoad:
    """A committed load."""
    return next(one for one in COMMITTED.loads if one.id == id)


def others(id: str) -> list[PlannedLoad]:
    """All committed loads but one."""
    return [one for one in COMMITTED.loads if one.id != id]


def test_without_a_draft_or_a_committed_plan_nothing_is_compared() -> None:
    """There must be two plans."""
    assert comparison(facts(), None, DAY) is None
    assert comparison(facts(plans={}), COMMITTED, DAY) is None


def test_the_same_plan_changes_no_load() -> None:
    """Every load is counted as staying as planned."""
    view = compared(*COMMITTED.loads)
    assert view.pairs == ()
    assert view.same == len(COMMITTED.loads)
    assert all(figure.same for figure in view.figures)


def test_a_moved_load_stands_in_both_columns_with_how_far_it_moved() -> None:
    """Pit and time of both plans, the chance of both, and by how much it moved."""
    was = load("sat-ham")
    now = replace(was, pit="south", load_at=was.load_at + 1.5 * HOUR, chance=0.71)
    (pair,) = compared(*others("sat-ham"), now).pairs
    assert pair.before is not None
    assert pair.after is not None
    assert (pair.before.spot, pair.after.spot) == ("Little", "South")
    assert pair.moved == "1 h 30 later, to South"
    assert (pair.before.sure, pair.after.sure) == ("96 %", "71 %")
    assert any("go on South" in says for says in pair.says)


def test_a_split_load_tells_what_was_split_off() -> None:
    """Fewer pieces where it was, and a new load of the same cut."""
    was = load("sat-brisket")
    kept, new = replace(was, pieces=8), replace(was, id="split", pieces=4, pit="south")
    moved = [pair.moved for pair in compared(*others("sat-brisket"), kept, new).pairs]
    assert moved == ["4 fewer", "split off 8 briskets"]


def test_joined_loads_tell_where_the_gone_one_went() -> None:
    """More pieces in one, and the other now in it."""
    was = load("sat-brisket")
    two = replace(
        COMMITTED, loads=(*others("sat-brisket"), replace(was, pieces=8), replace(was, id="b", pieces=4))
    )
    view = comparison(facts(plans={DAY: two}), COMMITTED, DAY)
    assert view is not None
    assert {pair.moved for pair in view.pairs} == {"4 more", "now in 12 briskets"}


def test_a_load_no_longer_cooked_and_what_is_then_short() -> None:
    """A dropped load has no place in the draft; the day's figures say what is missing."""
    short = Short("lunch", "ham-plate", 40, "no room")
    view = compared(*others("sat-ham"), short=(*COMMITTED.short, short), cost=COMMITTED.cost + 50)
    (pair,) = view.pairs
    assert pair.after is None
    assert pair.moved == "no longer cooked"
    figure = next(figure for figure in view.figures if "ham" in figure.what)
    assert (figure.before, figure.after, figure.worse) == ("0", "40", True)
    assert next(figure for figure in view.figures if figure.what == "cost").worse


@given(
    keep=st.lists(st.booleans(), min_size=len(COMMITTED.loads), max_size=len(COMMITTED.loads)),
    shift=st.lists(st.integers(-3, 3), min_size=len(COMMITTED.loads), max_size=len(COMMITTED.loads)),
    width=st.sampled_from([78, 118, 138, 198]),
)
@settings(deadline=None, max_examples=40)
def test_every_load_of_either_plan_is_told_or_counted(keep: list[bool], shift: list[int], width: int) -> None:
    """Whatever was dropped or moved, the loads told and those counted as staying are all there are."""
    kept = [
        replace(one, load_at=one.load_at + hours * HOUR)
        for one, stays, hours in zip(COMMITTED.loads, keep, shift, strict=True)
        if stays
    ]
    view = compared(*kept)
    assert len(view.pairs) + view.same == len(COMMITTED.loads)
    assert {pair.key for pair in view.pairs if pair.after is None} == {
        f"{DAY}/{one.id}" for one, stays in zip(COMMITTED.loads, keep, strict=True) if not stays
    }
    for table in (
        pairs_table(view, wide=width > 118),
        figures_table(view),
        also_table(view, wide=width > 118),
    ):
        assert {len(line.text) for line in body_lines(table, width)} <= {width}


@pytest.mark.parametrize(
    ("changed", "says"), [(0, "no load changes"), (1, "1 load changes"), (2, "2 loads change")]
)
def test_how_many_change_is_said(changed: int, says: str) -> None:
    """The count agrees with its verb."""
    moved = [replace(one, load_at=one.load_at + HOUR) for one in COMMITTED.loads[:changed]]
    draft: Plan = replace(COMMITTED, loads=(*moved, *COMMITTED.loads[changed:]))
    view = comparison(facts(), draft, DAY)
    assert view is not None
    assert summary(view).startswith(says)


def test_a_service_whose_meat_has_all_begun_is_under_way_and_none_is_called_not_held() -> None:
    """A draft tells no chance of what is no longer cooked for it; only one off the day is not held."""
    first, *rest = COMMITTED.occasions
    sure = replace(COMMITTED, risks=(Risk(first.id, first.at, 0.97, 0.9, 0.0),))
    for occasions, says in ((COMMITTED.occasions, "under way"), (tuple(rest), "not held")):
        draft = replace(COMMITTED, risks=(), occasions=occasions)
        view = comparison(facts(plans={DAY: sure}), draft, DAY)
        assert view is not None
        assert next(figure.after for figure in view.figures if figure.before == "97 %") == says


def test_a_try_says_what_the_plan_said_where_it_is_another_chance_by_now() -> None:
    """A service stands with the chance as planned, unless that is about the same."""
    first = COMMITTED.occasions[0]
    now = Risk(first.id, first.at, 0.72, 0.9, 0.0)
    for planned, says in ((0.97, f"all of {first.name}, planned 97 %,"), (0.74, f"all of {first.name}")):
        plan = replace(COMMITTED, risks=(replace(now, chance=planned),))
        (line,) = service_lines(plan, (now,), (now,))
        assert (line.what, line.now) == (says, "72 %")
