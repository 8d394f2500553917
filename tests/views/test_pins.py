"""Pinned loads carry a sign and a word wherever Tomorrow shows them."""

from dataclasses import replace
from datetime import timedelta
from zoneinfo import ZoneInfo

import pytest

from board.ledger.facts import PinFacts, RegroupFacts
from board.ledger.state import LoadStage
from board.sheets.views import Paper, render
from board.views.timeline import timeline
from board.views.timeline_drawing import draw
from board.views.timeline_window import whole
from board.views.tomorrow import tomorrow
from tests.app.house_fixture import DAY, ZONE, at, plan
from tests.views.facts_fixture import facts, standing, state

BRISKETS = next(load for load in plan().loads if load.id == "sat-brisket")
THERE = PinFacts(DAY, BRISKETS.id, BRISKETS.pit, None, BRISKETS.setpoint_c, BRISKETS.load_at)
BEFORE = at("03:00", -2)


@pytest.mark.parametrize("width", [60, 80, 140])
def test_a_pinned_load_says_so_on_its_line_and_in_the_list(width: int) -> None:
    """The page marks it on the timeline and in its line, and on no other load."""
    view = tomorrow(facts(now=BEFORE, pins=(THERE,)), DAY, selected=f"{DAY}/{BRISKETS.id}")
    page = render(view, Paper(width, "Cinder Lane", ZONE))
    assert [line.meat for line in view.loads if line.pinned] == ["12 briskets"]
    assert "◆ pinned" in page
    drawn = [
        line.text
        for line in draw(view.timeline, whole(view.timeline, width), ZoneInfo(ZONE))
        if "◆" in line.text
    ]
    assert len(drawn) == 1
    assert view.account is not None
    assert view.account.pinned == "◆ pinned: every new plan has it here and then"


@pytest.mark.parametrize(
    ("pin", "says"),
    [
        (replace(THERE, load_at=THERE.load_at + timedelta(hours=1)), "pinned to North at 118° from 20:12"),
        (replace(THERE, pit="south"), "pinned to South at 118° from 19:12"),
        (replace(THERE, pieces=4), "4 briskets pinned to North"),
    ],
)
def test_a_pin_the_plan_has_not_yet_is_told_apart(pin: PinFacts, says: str) -> None:
    """Pinned to another time, pit or number, it waits, and the account says where it is to be."""
    view = tomorrow(facts(now=BEFORE, pins=(pin,)), DAY, selected=f"{DAY}/{BRISKETS.id}")
    assert [line.pinned for line in view.loads if line.pinned] == ["◇ pin waits"]
    assert view.account is not None
    assert says in view.account.pinned


def test_meat_that_has_begun_shows_no_pin() -> None:
    """A pin of a load that is on says nothing any more."""
    on = standing(state(BRISKETS.id, LoadStage.ON, on_at=BRISKETS.load_at))
    bars = timeline(facts(pins=(THERE,), loads=on), plan()).pits
    assert not any(bar.pinned for pit in bars for bar in pit.bars)


def test_a_split_of_a_load_that_is_gone_is_told() -> None:
    """It changes nothing any more, so it stands among what to see to; one that the plan can make does not."""
    gone = RegroupFacts(1, DAY, "sat-gone", "sat-gone-2", 2)
    there = RegroupFacts(2, DAY, BRISKETS.id, "sat-brisket-2", 5)
    told = tomorrow(facts(now=BEFORE, regroups=(gone, there)), DAY).cautions
    assert [says for says in told if "split" in says] == [
        "◇ the split of sat-gone changes nothing: that load is not in the plan any more"
    ]
