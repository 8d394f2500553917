"""What the Service view says of each item."""

from dataclasses import replace
from datetime import time, timedelta

from board.house.model import House, StepRule, Work
from board.house.past import Sale
from board.ledger.state import LoadStage, Reading
from board.planning.plan import Occasion, Plan, PlannedStep
from board.views.facts import Done
from board.views.hold_age import Old
from board.views.progress import Risk
from board.views.service import ItemLine, NextStep, Wave, service
from board.views.service_tables import items_table, orders_table
from board.views.table import body_lines, head_line
from board.views.text import Tone
from tests.app.house_fixture import DAY, at, house, plan
from tests.views.facts_fixture import facts, standing, state

HELD = state("sat-brisket", LoadStage.PULLED, on_at=at("19:12", -1), pulled_at=at("06:50"), portions_left=80)


def line(item: str, **changes: object) -> ItemLine:
    """One item's line."""
    now = changes.pop("now", at("12:00"))
    return next(one for one in service(facts(now=now, **changes)).lines if one.item == item)  # type: ignore[arg-type]


def test_rested_load_is_ready_with_its_age() -> None:
    """A load pulled and rested counts as ready, as old as the time since it had rested."""
    brisket = line("brisket-plate", loads=standing(HELD))
    assert (brisket.holding, brisket.oldest) == (80, "4 h 10, past 4 h")


def test_resting_load_is_not_ready_yet() -> None:
    """A load just pulled rests, and is not counted as ready."""
    brisket = line("brisket-plate", now=at("07:00"), loads=standing(HELD))
    assert (brisket.holding, brisket.resting) == (0, 80)


def test_held_past_its_longest_is_marked() -> None:
    """A hold longer than the cut allows is marked."""
    assert line("brisket-plate", loads=standing(HELD)).held_too_long
    assert not line("brisket-plate", now=at("11:00"), loads=standing(HELD)).held_too_long


def test_coming_waves_are_of_this_service_only() -> None:
    """Loads for dinner are not counted as coming for lunch."""
    chicken = line("half-bird", now=at("09:00"))
    assert [(wave.portions, wave.risk) for wave in chicken.coming] == [(60, Risk.LATE)]


def test_what_is_left_is_the_promise_less_the_sales() -> None:
    """Left counts down from what was promised."""
    brisket = line("brisket-plate", loads=standing(HELD), sold={(DAY, "lunch", "brisket-plate"): 30})
    assert (brisket.sold, brisket.left) == (30, 60)


def test_lasting_follows_todays_pace() -> None:
    """Thirty sold in the first hour leave ten portions for twenty minutes."""
    few = standing(
        state("sat-brisket", LoadStage.PULLED, on_at=at("19:12", -1), pulled_at=at("06:50"), portions_left=10)
    )
    brisket = line("brisket-plate", loads=few, sold={(DAY, "lunch", "brisket-plate"): 30})
    assert brisket.lasts == "until 12:20"
    assert brisket.runs_short


def test_slow_sales_last_to_the_end() -> None:
    """With more than will be sold, an item lasts to the end of the service."""
    brisket = line("brisket-plate", loads=standing(HELD), sold={(DAY, "lunch", "brisket-plate"): 10})
    assert brisket.lasts == "to the end"


def test_sold_out_says_so() -> None:
    """An item marked sold out says only that."""
    assert line("ham-plate", sold_out=frozenset({(DAY, "lunch", "ham-plate")})).lasts == "sold out"


def test_an_item_with_nothing_left_to_do_still_has_its_load() -> None:
    """Once every step is done the item points at the load that came ready last, without a step."""
    done = {(DAY, step.id): Done(at("11:30"), "bram") for step in plan().steps}
    brisket = line("brisket-plate", loads=standing(HELD), done=done)
    assert (brisket.load, brisket.step) == (f"{DAY.isoformat()}/sat-brisket", "")


def read(celsius: float, clock: str) -> Reading:
    """A core of the briskets."""
    return Reading(1, at(clock), "wren", "", celsius, load="sat-brisket")


def test_age_stands_beside_the_longest_hold_of_the_house() -> None:
    """Near its longest an age says so, past it too, and whose limit that is."""
    near = line("brisket-plate", now=at("11:20"), loads=standing(HELD)).age
    assert near is not None
    assert (near.says, near.old, near.by_rule) == ("3 h 30 of 4 h", Old.NEAR, False)
    assert "the house holds brisket 4 h at most" in near.why


def test_rule_binds_where_food_was_read_too_cool() -> None:
    """Read below hot holding, the time its rule leaves ends before the house's longest hold."""
    cold = {(DAY, "sat-brisket"): (read(64.0, "07:55"), read(50.0, "08:20"))}
    slow = replace(
        house(), cuts={**house().cuts, "brisket": replace(house().cuts["brisket"], hold_longest_minutes=600)}
    )
    age = line("brisket-plate", now=at("10:00"), loads=standing(HELD), readings=cold, house=slow).age
    assert age is not None
    assert age.by_rule
    assert (age.says, age.old) == ("2 h 10 of 4 h 05", Old.FINE)
    assert "the rule gives it 4 h from its last hot reading" in age.why


def finished_by_hand() -> tuple[House, Plan]:
    """A house that slices its briskets, and Saturday's plan with the slicing at 10:40."""
    slicing = StepRule("slice", Work(5, 2), (0, 30))
    items = {**house().items, "brisket-plate": replace(house().items["brisket-plate"], finish=(slicing,))}
    step = PlannedStep("s-slice", at("10:40"), at("11:00"), "slice", "bram", "sat-brisket", None, 20.0)
    return replace(house(), items=items), replace(plan(), steps=(*plan().steps, step))


def test_meat_still_to_be_sliced_is_not_ready() -> None:
    """Rested portions whose finishing work is not marked are no portions to sell, and the step is overdue."""
    slicing, planned = finished_by_hand()
    brisket = line("brisket-plate", house=slicing, plans={DAY: planned}, loads=standing(HELD))
    assert (brisket.holding, brisket.unfinished) == (0, "80 to slice")
    assert brisket.next is not None
    assert brisket.next.overdue
    sliced = {(DAY, step.id): Done(at("10:50"), "bram") for step in planned.steps}
    after = line("brisket-plate", house=slicing, plans={DAY: planned}, loads=standing(HELD), done=sliced)
    assert (after.holding, after.unfinished) == (80, "")


def test_what_was_sold_from_a_load_was_sliced() -> None:
    """A load that was sold from counts as ready though nobody marked its slicing."""
    slicing, planned = finished_by_hand()
    sold = standing(replace(HELD, portions=80, portions_left=60))
    assert line("brisket-plate", house=slicing, plans={DAY: planned}, loads=sold).holding == 60


def with_order(portions: int) -> Plan:
    """Saturday with an order of brisket from the lunch load."""
    order = Occasion("c9", "Ada Birch", at("12:30"), at("12:30"), {"brisket-plate": portions}, True)
    loads = tuple(
        replace(ld, services=(*ld.services, "c9")) if ld.id == "sat-brisket" else ld for ld in plan().loads
    )
    return replace(plan(), occasions=(*plan().occasions, order), loads=loads)


def test_portions_of_an_order_are_kept_until_it_is_handed_over() -> None:
    """Ready counts what the line may sell; the order's portions come back to nobody once it has them."""
    brisket = line("brisket-plate", plans={DAY: with_order(30)}, loads=standing(HELD))
    assert (brisket.holding, brisket.aside) == (50, 30)
    gone = {(DAY, "c9", "brisket-plate"): 30}
    left = standing(replace(HELD, portions_left=50))
    after = line("brisket-plate", plans={DAY: with_order(30)}, loads=left, sold=gone)
    assert (after.holding, after.aside) == (50, 0)


def test_order_past_its_time_is_not_collected_and_then_handed_over() -> None:
    """An order says that it waits to be collected, and stands last once it is gone."""
    known = facts(now=at("12:40"), plans={DAY: with_order(30)}, loads=standing(HELD))
    waits = service(known).orders
    assert [(o.name, o.state, o.overdue) for o in waits] == [("Ada Birch", "not collected", True)]
    assert "not collected △" in str(orders_table(service(known)).rows)
    gone = service(replace(known, sold={(DAY, "c9", "brisket-plate"): 30})).orders
    assert [(o.state, o.gone) for o in gone] == [("handed over", True)]


SATURDAYS = tuple(
    Sale(DAY - timedelta(days=7 * n), "lunch", "brisket-plate", 45, 10, time(12, 30) if n == 1 else None)
    for n in range(1, 5)
)


def test_pace_leans_on_other_saturdays_early_and_on_today_late() -> None:
    """The words say what the pace is taken from: past days as a service opens, today's sales two hours on."""
    known = replace(house(), sales=SATURDAYS)
    early = line("brisket-plate", now=at("11:10"), loads=standing(HELD), house=known)
    assert early.leans == "as on other Saturdays"
    sold = {(DAY, "lunch", "brisket-plate"): 40}
    middle = line("brisket-plate", now=at("12:00"), loads=standing(HELD), house=known, sold=sold)
    assert middle.leans == "at today's pace and as on other Saturdays"
    late = line("brisket-plate", now=at("13:05"), loads=standing(HELD), house=known, sold=sold)
    assert late.leans == "at today's pace"


def test_pace_without_past_days_leans_on_the_promise() -> None:
    """A house that never sold the item before reckons with what is promised."""
    assert line("brisket-plate", now=at("11:05"), loads=standing(HELD)).leans == "as promised"


def test_a_wave_that_comes_too_late_leaves_a_gap() -> None:
    """With nothing ready and a wave to come, the row says from when there is some."""
    assert line("half-bird", now=at("11:02")).lasts.startswith("none until")


def test_age_stays_at_80_columns() -> None:
    """At 80 columns the age of the oldest portions stands beside its limit, in words."""
    view = service(facts(now=at("11:50"), loads=standing(HELD)))
    table = items_table(view, 80)
    assert "oldest" in head_line(table, 78).text
    assert any("4 h of 4 h" in one.text for one in body_lines(table, 78))


def test_past_the_house_s_own_longest_is_told_in_words_and_yellow() -> None:
    """What no rule forbids is no red: the word and the sign say that it is past it."""
    over = items_table(service(facts(now=at("12:10"), loads=standing(HELD)))).rows
    cell = next(row for row in over if row.key == "brisket-plate").cells[2]
    assert cell.tone is Tone.CARE
    assert ", past " in cell.text
    assert cell.text.endswith(" △")


def test_what_only_comes_is_one_sentence_at_80_columns() -> None:
    """An item whose portions all come in time says when, and the next step, in one line."""
    view = service(facts(loads=standing(HELD)))
    comes = replace(
        view.lines[0],
        coming=(Wave(80, "10:23", Risk.IN_TIME),),
        next=NextStep("", at("09:10"), "09:10 brine 6 chicken halves", overdue=False),
        resting=0,
        unfinished="",
        caution="",
        remedy="",
    )
    late = replace(comes, coming=(Wave(80, "11:10", Risk.LATE),))
    calm, troubled = items_table(replace(view, lines=(comes, late)), 80).rows
    assert [cell.text for cell in calm.below] == ["to come 80 at 10:23; next 09:10 brine 6 chicken halves"]
    assert [cell.tone for cell in troubled.below] == [Tone.LATE, Tone.QUIET]
