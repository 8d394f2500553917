"""An item that is sold out: what else stops urging it."""

from dataclasses import replace

from board.views.called_off import is_called_off
from board.views.facts import load_of
from board.views.opening import opening
from board.views.opening_tables import cover_table
from board.views.remedying import in_trouble
from tests.app.house_fixture import DAY
from tests.views.test_remedies import cooking

HAM_OUT = frozenset({(DAY, "lunch", "ham-plate")})


def test_remedies_no_longer_urge_what_is_sold_out() -> None:
    """A late load is in trouble no more once its item was called sold out at all it is for."""
    late = [load.id for _, load in in_trouble(cooking())]
    assert "sat-ham" in late
    out = replace(cooking(), sold_out=HAM_OUT)
    assert "sat-ham" not in [load.id for _, load in in_trouble(out)]


def test_a_load_that_also_serves_dinner_is_still_wanted() -> None:
    """Sold out at lunch alone, a load for lunch and dinner is not called off."""
    out = replace(cooking(), sold_out=HAM_OUT)
    found = load_of(out, f"{DAY.isoformat()}/sat-ham")
    assert found is not None
    plan, load = found
    both = replace(load, services=("lunch", "dinner"))
    plans = {**out.plans, DAY: replace(plan, loads=(both,))}
    assert not is_called_off(replace(out, plans=plans), both)


def test_opening_says_sold_out_and_not_short() -> None:
    """For lunch says that an item is sold out, in place of short or late."""
    out = replace(cooking(), sold_out=frozenset({(DAY, "lunch", "pork-plate")}))
    pork = next(row for row in opening(out).cover if row.item == "pork")
    assert (pork.sold_out, pork.short, pork.late) == (True, 0, 0)
    row = next(row for row in cover_table(opening(out)).rows if row.key == "pork")
    assert row.cells[-1].text == "sold out"
