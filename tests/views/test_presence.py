"""Since when somebody was away, and what the next shift is told."""

from dataclasses import replace

from board.ledger.state import Entry
from board.views.handover import draft
from board.views.opening import opening
from board.views.presence import away
from board.views.story import happened
from tests.app.house_fixture import DAY, at, plan
from tests.views.facts_fixture import facts
from tests.views.test_opening import entry, morning


def by(who: str, told: Entry) -> Entry:
    """The same entry of another hand."""
    return replace(told, who=who)


RECENT = (
    entry(1, "13:00", "note", text="before"),
    entry(2, "21:00", "handover", text="good night"),
    entry(3, "03:00", "note", text="in the night"),
)
LAST_EVENING = tuple(
    replace(one, at=at(clock, -1), noted_at=at(clock, -1))
    for one, clock in zip(RECENT[:2], ("13:00", "21:00"), strict=True)
)
NIGHT = facts(recent=(*LAST_EVENING, RECENT[2]), since=(RECENT[2],), since_at=at("21:00", -1))


def test_the_story_begins_where_ones_own_shift_ended() -> None:
    """Tomas left at 13:30 yesterday: the handover of others since does not cut his story short."""
    gone = away(NIGHT, "tomas")
    assert gone.says == "Since you left, yesterday 13:30"
    assert [one.seq for one in gone.entries] == [2, 3]


def test_ones_own_last_entry_counts_when_it_is_later() -> None:
    """Who wrote after the end of the shift was there then; what is written in this shift does not count."""
    late = replace(by("tomas", RECENT[2]), seq=9, at=at("22:10", -1), noted_at=at("22:10", -1))
    now = by("tomas", entry(10, "05:41", "note", text="here"))
    told = replace(NIGHT, recent=(*NIGHT.recent, late, now))
    assert away(told, "tomas").says == "Since your last entry, yesterday 22:10"
    signed = replace(late, kind="handover")
    assert (
        away(replace(NIGHT, recent=(*NIGHT.recent, signed)), "tomas").says
        == "Since you handed over, yesterday 22:10"
    )
    undone = replace(late, undone=True)
    assert (
        away(replace(NIGHT, recent=(*NIGHT.recent, undone)), "tomas").says
        == "Since you left, yesterday 13:30"
    )


def test_hours_into_a_shift_the_story_is_of_the_shift() -> None:
    """Tomas came at 05:30: until half past seven he hears of the night, from then on of the morning."""
    night, morning = (
        entry(3, "03:00", "note", text="in the night"),
        entry(4, "06:00", "note", text="it rains"),
    )
    told = facts(recent=(night, morning))
    assert [one.seq for one in away(replace(told, now=at("07:29")), "tomas").entries] == [3, 4]
    later = away(replace(told, now=at("07:31")), "tomas")
    assert (later.says, [one.seq for one in later.entries]) == ("Since you came, 05:30", [4])


def test_who_was_not_there_is_told_since_somebody_signed() -> None:
    """A person without a shift or an entry in that time reads from the last handover on, or all there is."""
    assert away(NIGHT, "nobody").says == "Since Ines handed over, yesterday 21:00"
    assert away(replace(NIGHT, since_at=None), "nobody").says == "In the last 36 h"
    assert away(replace(NIGHT, since_at=None), "nobody").entries == NIGHT.recent
    assert away(NIGHT, "").says == "Since 21:00"


def test_readings_are_summed_up() -> None:
    """How many were taken, and whether what has a range was in it; a low pit is out of range."""
    lines = {line.key: line.says for line in happened(morning())}
    assert lines["readings"] == "3 readings, 2 out of range: see Record"
    good = replace(morning(), since=(entry(1, "01:00", "reading", "north", temperature_c=117.0),))
    assert [line.says for line in happened(good)] == ["1 reading, all in range"]
    core = replace(morning(), since=(*good.since, entry(2, "01:00", "reading", "x", temperature_c=60.0)))
    assert happened(core)[-1].says == "2 readings, pits, holds and walk-in in range"


def test_the_next_shift_is_told_what_matters() -> None:
    """What went wrong, what is late with its reason, what is short, and what comes next, in sentences."""
    told = replace(morning(), recent=morning().since)
    says = draft(told, opening(told, who="ines"), "ines")
    assert says[0] == "05:30 4 hams went on Little, 50 min after plan (Ines)" or "fell to" in says[0]
    assert any(
        one.startswith("4 hams on Little: likely ready") and "too late for 11:00" in one for one in says
    )
    assert any("short of 10 pork" in one for one in says)
    assert any(one.startswith("Next: ") for one in says)
    assert all(one == one.strip() and len(one) < 500 for one in says)


def test_overdue_work_is_handed_over() -> None:
    """What should be done already is told with how late it is."""
    glaze = tuple(step for step in plan().steps if step.what == "make" and step.at == at("06:15"))
    told = facts(now=at("06:45"), plans={DAY: replace(plan(), steps=glaze)})
    says = draft(told, opening(told, who="tomas"), "tomas")
    assert any(one.startswith("Not done yet:") and "cider glaze (30 min late)" in one for one in says)


def test_a_quiet_shift_says_so() -> None:
    """Where nothing is planned and nothing was recorded, one sentence says that all is well."""
    empty = facts(plans={})
    assert draft(empty, opening(empty), "tomas") == (
        "Nothing went wrong, nothing is late and nothing is short.",
    )
