"""Zones and turns as the views say them, and what to see to before anything else."""

from dataclasses import replace
from datetime import timedelta

from board.app.keymap import Keymap
from board.ledger.state import Entry, LoadStage, LoadState
from board.planning.plan_json import from_json, to_json
from board.planning.remedies.remedy import Action, Kind
from board.sheets.plan_sheet import plan_sheet
from board.views.alarm_tables import warnings_table
from board.views.facts import Facts, find_load, find_step
from board.views.happened import sentence
from board.views.load_page import LoadPage, load_page
from board.views.measuring import places
from board.views.opening import opening
from board.views.remedies import action_words
from board.views.service import service
from board.views.steps import say, say_shortly
from board.views.timeline import timeline
from board.views.tomorrow import tomorrow
from board.views.tomorrow_tables import lacks_table
from tests.app import zoned
from tests.app.house_fixture import DAY, at
from tests.app.zoned import TURN
from tests.views.facts_fixture import facts as plain_facts
from tests.views.facts_fixture import standing, state

NOW = at("01:30")
BRISKET = state("sat-brisket", LoadStage.ON, on_at=at("19:12", -1), pit="north")
SHOULDER = state("sat-shoulder", LoadStage.ON, on_at=at("20:10", -1), pit="south", zone="upper")


def night(*states: LoadState, **changes: object) -> Facts:
    """Half past one, the briskets on North and the shoulders on South's upper shelves."""
    known = Facts(zoned.house(), NOW, {DAY: zoned.plan()}, loads=standing(*(states or (BRISKET, SHOULDER))))
    return replace(known, **changes)  # type: ignore[arg-type]


def said(known: Facts, step: str) -> tuple[str, str]:
    """A step at length and in short."""
    plan = known.plans[DAY]
    planned = find_step(plan, step)
    assert planned is not None
    return say(known, plan, planned), say_shortly(known, plan, planned)


def page(known: Facts, load: str) -> LoadPage:
    """A load's page."""
    found = load_page(known, f"{DAY}/{load}")
    assert found is not None
    return found


def fact(known: Facts, load: str, head: str) -> str:
    """One line of what is known of a load; nothing where there is none."""
    return next((line.says for line in page(known, load).facts if line.head == head), "")


def test_steps_say_where_on_the_pit() -> None:
    """Loading, pulling and their short forms name the zone; a pit without zones is named alone."""
    known = night()
    assert said(known, "s-load-shoulder") == (
        "load 6 shoulders on South, upper shelves",
        "load 6 shoulders, South, upper shelves",
    )
    assert said(known, "s-pull-shoulder")[0] == "pull 6 shoulders from South, upper shelves"
    assert said(known, "s-load-ribs")[0] == "load 35 rib racks on South, lower shelves"
    assert said(known, "s-pull-brisket")[0] == "pull 12 briskets from North"


def test_steps_follow_a_load_that_moved() -> None:
    """Carried down, it is pulled from the lower shelves; carried to no zone that is known, from the pit."""
    moved = replace(SHOULDER, zone="lower", moved_at=at("01:00"), moved_from="south", moved_from_zone="upper")
    assert said(night(moved), "s-pull-shoulder")[0] == "pull 6 shoulders from South, lower shelves"
    unknown = replace(moved, zone=None)
    assert said(night(unknown), "s-pull-shoulder")[0] == "pull 6 shoulders from South"


def test_a_turn_is_said_by_its_second_setpoint() -> None:
    """Setting North at the turn asks for what the briskets are turned to, its lighting for the first."""
    known = night()
    assert said(known, "s-set-north")[0] == "set North to 130°"
    assert said(known, "s-light-north")[0] == "light North to 118°"


def test_the_turn_is_in_what_to_do_next() -> None:
    """At its time, later with the load, overdue in words, and gone once the pit was set so."""
    row = next(one for one in opening(night()).next if one.says.startswith("set North"))
    assert (row.clock, row.says) == ("02:10", "set North to 130°")
    late = night(replace(BRISKET, on_at=at("19:42", -1)))
    assert next(one for one in opening(late).next if one.says.startswith("set North")).clock == "02:40"
    overdue = night(now=at("02:31"))
    assert ("21 min late", "set North to 130°") in [(one.clock, one.says) for one in opening(overdue).next]
    done = night(now=at("02:31"), asked={"north": ((TURN, 130.0),)})
    assert not [one for one in opening(done).next if one.says.startswith("set North")]


def test_a_load_says_where_it_stands() -> None:
    """Opening, the load's page, and the list of what can be measured name the zone."""
    known = night()
    assert {row.meat: row.pit for row in opening(known).standing} == {
        "12 briskets": "North",
        "6 shoulders": "South, upper shelves",
    }
    assert page(known, "sat-shoulder").where == "South, upper shelves, cooking"
    assert fact(known, "sat-shoulder", "pit") == "South, upper shelves at 121°"
    assert "6 shoulders, South, upper shelves" in [choice.name for choice in places(known)]


def test_a_turn_is_on_the_load_page_and_its_chart() -> None:
    """When it is to be done, overdue, and since when it is; nothing on a load that is not turned."""
    assert fact(night(), "sat-brisket", "then") == "set North to 130° at 02:10"
    assert fact(night(now=at("02:31")), "sat-brisket", "then") == "set North to 130° at 02:10, 21 min overdue"
    done = night(now=at("02:31"), asked={"north": ((at("02:14"), 130.0),)})
    assert fact(done, "sat-brisket", "then") == "North to 130° since 02:14"
    assert fact(night(), "sat-shoulder", "then") == ""
    for known, moment in ((night(), TURN), (done, at("02:14"))):
        chart = page(known, "sat-brisket").chart
        assert chart is not None
        assert [one.at for one in chart.moments if one.name == "pit 130°"] == [moment]


def test_tomorrow_tells_zones_and_turns() -> None:
    """In the list, in the account's title and its chain, and as two stretches of one fire."""
    known = night()
    view = tomorrow(known, DAY, selected=f"{DAY}/sat-brisket")
    rows = {line.key.partition("/")[2]: (line.pit, line.setpoint) for line in view.loads}
    assert rows["sat-brisket"] == ("North", "118→130°")
    assert rows["sat-ribs"] == ("South, lower shelves", "121°")
    assert view.account is not None
    turn = next(link for link in view.account.chain if link.what == "set")
    assert (turn.clock, turn.says) == ("02:10", "North to 130°")
    other = tomorrow(known, DAY, selected=f"{DAY}/sat-ribs").account
    assert other is not None
    assert other.title == "35 rib racks on South, lower shelves"
    north = timeline(known, known.plans[DAY]).pits[0]
    assert [(fire.setpoint, fire.until) for fire in north.fires] == [("118°", TURN), ("130°", at("08:00"))]
    south = timeline(known, known.plans[DAY]).pits[1]
    assert [bar.label for bar in south.bars] == ["6 shoulders, upper shelves", "35 rib racks, lower shelves"]


def test_the_record_says_from_where_to_where() -> None:
    """A move between shelves, and a load marked on in a zone."""
    known = night()
    move = Entry(9, NOW, NOW, "ines", "move", "sat-shoulder", {
        "day": DAY.isoformat(), "pit": "south", "zone": "lower", "from": "south", "from_zone": "upper",
    })  # fmt: skip
    assert sentence(known, move) == ("6 shoulders moved from South, upper shelves to South, lower shelves")
    on = Entry(8, NOW, NOW, "ines", "load", "sat-shoulder", {"day": DAY.isoformat(), "stage": "on"})
    assert "South, upper shelves" in sentence(known, on)


def test_the_sheet_on_the_wall_says_both() -> None:
    """The plan as text, read back from its document, names zone, turn, caution and the unsure service."""
    text = plan_sheet(from_json(to_json(zoned.plan())), zoned.house())
    assert "on South, upper shelves at" in text
    assert "130 °C from 02:10" in text
    assert "set North to 130 °C" in text
    assert "load 6 shoulders on South, upper shelves" in text
    assert zoned.CAUTION in text
    assert "lunch: in time 82 times in 100, 90 wanted" in text


def test_service_names_the_zone_of_its_next_step() -> None:
    """The step under an item says from which shelves it is pulled."""
    known = night(now=at("05:30"))
    pork = next(line for line in service(known).lines if line.item == "pork-plate")
    assert pork.next is not None
    assert pork.next.says.endswith("pull 6 shoulders from South, upper shelves")


def test_a_remedy_says_into_which_zone() -> None:
    """A move names the shelves it goes to."""
    known = night()
    load = find_load(known.plans[DAY], "sat-brisket")
    assert load is not None
    move = Action(Kind.MOVE, "south", 121.0, zone="lower")
    assert action_words(known, load, move) == "move to South, lower shelves at 121°"
    unlit = replace(move, is_unlit=True)
    assert action_words(known, load, unlit) == "light South to 121° and move there, lower shelves"


def test_an_unsure_service_is_atop_opening_until_it_comes() -> None:
    """The evening before and in the morning; not once it is served, nor two days before, nor a sure one."""
    warned = "As planned, lunch: in time 82 times in 100, 90 wanted."
    assert opening(night()).warnings == (warned,)
    evening = night(now=at("21:00", -1))
    assert opening(evening).warnings == (warned.replace(" wanted.", " wanted (tomorrow)."),)
    assert opening(night(now=at("11:30"))).warnings == ()
    assert opening(night(now=at("09:00", -2))).warnings == ()
    assert opening(plain_facts()).warnings == ()


def test_a_walk_in_over_full_is_atop_opening_while_it_lasts() -> None:
    """77 kg of briskets rubbed by 16:30 wait until 19:12 in a walk-in for 60 kg: said until then."""
    small = replace(zoned.house(), walk_in_kg=60.0)
    before = Facts(small, at("12:00", -1), {DAY: zoned.plan()})
    walk_in = [says for says in opening(before).warnings if "walk-in" in says]
    assert len(walk_in) == 1
    assert "16:30" in walk_in[0]
    assert "19:12" in walk_in[0]
    after = replace(before, now=at("19:13", -1))
    assert not [says for says in opening(after).warnings if "walk-in" in says]
    lost = state("sat-brisket", LoadStage.LOST, lost_at=at("11:00", -1))
    assert not [says for says in opening(replace(before, loads=standing(lost))).warnings if "walk-in" in says]
    early = replace(before, now=before.now - timedelta(days=1))
    assert not [says for says in opening(early).warnings if "walk-in" in says]


def test_the_warnings_are_rows_to_care_for() -> None:
    """Each sentence is one row of the list atop the view."""
    view = opening(night())
    rows = warnings_table((), view.warnings, Keymap().key, 4, whole=True).rows
    assert [row.cells[0].text for row in rows] == [f"· {says}" for says in view.warnings]


def test_tomorrow_lists_what_to_see_to() -> None:
    """Under what is short, or under its own title where nothing is."""
    known = night()
    texts = [row.cells[0].text for row in lacks_table(tomorrow(known, DAY)).rows]
    assert zoned.CAUTION in texts
    assert "lunch: in time 82 times in 100, 90 wanted" in texts
    enough = replace(known, plans={DAY: replace(zoned.plan(), short=())})
    assert lacks_table(tomorrow(enough, DAY)).title == "See to"
