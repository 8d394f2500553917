"""A batch from the scale to the meat: weighed, made under a lot, traced to its loads, thrown away."""

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest
from sqlite_utils import Database

from board.errors import LedgerError
from board.ledger import read, write
from board.ledger.open import Ledger, open_ledger
from board.ledger.state import BatchStage, Took, Weight

from .by_hand import DAY, EVENING, LOADED, glaze, plan, step
from .test_undo import by

GLAZE, BRISKET = "1209-glaze-1", "1209-brisket-1"
HOUR = timedelta(hours=1)
BEFORE, MADE = LOADED - 6 * HOUR, LOADED - 5 * HOUR
CURE = Weight(2, "curing salt", 30.2, 30.2)


def test_a_line_weighed_again_stands_in_place_of_the_first(planned: Ledger) -> None:
    """Each tick is an entry; the last one counts, and taking it back brings the one before."""
    write.weigh(planned, GLAZE, Weight(1, "cider", 800.0, 800.0), **by("Max", BEFORE))
    again = write.weigh(planned, GLAZE, Weight(1, "cider", 800.0, 790.0), **by("Max", BEFORE))
    assert [(w.line, w.grams, w.asked_g, w.who) for w in read.weighings(planned, DAY)] == [
        (1, 790.0, 800.0, "Max")
    ]
    write.undo(planned, again.seq, **by("Max", BEFORE))
    assert [w.grams for w in read.weighings(planned, DAY)] == [800.0]


def test_the_same_tick_twice_is_one_entry(planned: Ledger) -> None:
    """Two people who tick the same amount leave one entry."""
    first = write.weigh(planned, GLAZE, CURE, **by("Max", BEFORE))
    assert write.weigh(planned, GLAZE, CURE, **by("Ines", BEFORE)).seq == first.seq


def test_a_cure_is_read_by_a_second_person(planned: Ledger) -> None:
    """Who weighed it is not who read it, whatever the letters' case; another name is kept."""
    with pytest.raises(LedgerError, match="a second person reads the scale"):
        write.weigh(planned, GLAZE, CURE, reader="max", **by("Max", BEFORE))
    write.weigh(planned, GLAZE, CURE, reader="Wren", **by("Max", BEFORE))
    assert read.weighings(planned, DAY)[0].reader == "Wren"


@pytest.mark.parametrize("grams", [0.0, -1.0, 1_000_000.5, float("nan")])
def test_what_no_scale_shows_is_refused(planned: Ledger, grams: float) -> None:
    """Nothing, less than nothing and a tonne are no weight."""
    with pytest.raises(LedgerError, match="cannot be weighed"):
        write.weigh(planned, GLAZE, Weight(1, "cider", 800.0, grams), **by("Max", BEFORE))


def test_nothing_is_weighed_into_a_batch_that_is_made(planned: Ledger) -> None:
    """After the making a weighing is refused; one of before it may still be written down."""
    write.make_batch(planned, GLAZE, **by("Max", MADE))
    with pytest.raises(LedgerError, match="was made at"):
        write.weigh(planned, GLAZE, CURE, **by("Max", MADE + HOUR))
    write.weigh(planned, GLAZE, CURE, **(by("Max", BEFORE) | {"noted_at": MADE + HOUR}))


def test_a_batch_gets_a_lot_of_its_day_recipe_and_making(planned: Ledger) -> None:
    """Without a lot typed the board gives one, by whatever way the batch is made, and it is kept."""
    write.mark_step(planned, f"{GLAZE}.make", **by("Max", MADE))
    assert read.batch_states(planned, DAY)[0].lot == "1208-cider-glaze-1"
    again = write.make_batch(planned, GLAZE, "other", **by("Max", MADE + HOUR))
    assert (again.already, read.batch_states(planned, DAY)[0].lot) == (True, "1208-cider-glaze-1")


def test_two_batches_have_two_lots(planned: Ledger) -> None:
    """The second making of a recipe on a day is the second lot; the first one's is refused for it."""
    second = replace(glaze(), id="1209-glaze-2")
    write.commit_plan(planned, replace(plan(), batches=(glaze(), second)), **by("Ada", BEFORE))
    write.make_batch(planned, GLAZE, **by("Max", MADE))
    with pytest.raises(
        LedgerError, match="is that of 1209-glaze-1 of 2026-12-09; 1208-cider-glaze-2 is free"
    ):
        write.make_batch(planned, second.id, "1208-cider-glaze-1", **by("Max", MADE))
    write.make_batch(planned, second.id, **by("Max", MADE))
    assert [b.lot for b in read.batch_states(planned, DAY)] == ["1208-cider-glaze-1", "1208-cider-glaze-2"]


def test_a_lot_comes_back_after_a_year(planned: Ledger) -> None:
    """A lot says its day and month, so that of last year does not block this year's."""
    write.make_batch(planned, GLAZE, **by("Max", MADE))
    year = timedelta(days=365)
    later = replace(plan(day=date(2027, 12, 9)), batches=(replace(glaze(), make_by=glaze().make_by + year),))
    write.commit_plan(planned, later, **by("Ada", BEFORE + year))
    write.make_batch(planned, GLAZE, **by("Max", MADE + year))
    assert read.batch_states(planned, date(2027, 12, 9))[0].lot == "1208-cider-glaze-1"


def test_a_step_says_what_it_took_of_which_lot(planned: Ledger) -> None:
    """A lot is traced to the load it went into; taking the step back takes the use back."""
    write.make_batch(planned, GLAZE, "L7", **by("Max", MADE))
    write.mark_step(planned, f"{BRISKET}.rub", took=(Took(GLAZE, DAY, 1.2),), **by("Max", MADE + HOUR))
    assert [(u.load, u.lot, u.kg, u.who) for u in read.uses(planned, DAY)] == [(BRISKET, "L7", 1.2, "Max")]
    write.undo(planned, **by("Max", MADE + HOUR))
    assert read.uses(planned, DAY) == []


def test_a_making_is_not_taken_back_under_its_use(planned: Ledger) -> None:
    """What was put on a load was made."""
    made = write.make_batch(planned, GLAZE, **by("Max", MADE))
    write.mark_step(planned, f"{BRISKET}.rub", took=(Took(GLAZE, DAY, 1.2),), **by("Max", MADE + HOUR))
    with pytest.raises(LedgerError, match="was used on 1209-brisket-1 after it was made"):
        write.undo(planned, made.seq, **by("Max", MADE + HOUR))


def test_nothing_is_taken_of_what_is_not_there(planned: Ledger) -> None:
    """A batch not made, thrown away or in no plan gives nothing."""
    rub, after = f"{BRISKET}.rub", by("Max", MADE + HOUR)
    with pytest.raises(LedgerError, match="is not made yet"):
        write.mark_step(planned, rub, took=(Took(GLAZE, DAY, 1.2),), **after)
    with pytest.raises(LedgerError, match="names the batch no-such"):
        write.mark_step(planned, rub, took=(Took("no-such", DAY, 1.2),), **after)
    write.make_batch(planned, GLAZE, **by("Max", MADE))
    write.mark_batch(planned, GLAZE, BatchStage.DISCARDED, reason="left out overnight", **by("Max", MADE))
    with pytest.raises(LedgerError, match="was discarded at"):
        write.mark_step(planned, rub, took=(Took(GLAZE, DAY, 1.2),), **after)


def test_a_batch_is_discarded_with_its_reason(planned: Ledger) -> None:
    """The reason stands with the batch until the discarding is taken back."""
    write.mark_batch(planned, GLAZE, BatchStage.DISCARDED, reason="left out", **by("Max", MADE))
    assert read.batch_states(planned, DAY)[0].discarded_why == "left out"
    write.undo(planned, **by("Max", MADE))
    assert read.batch_states(planned, DAY)[0].discarded_why is None


def test_a_lot_comes_through_a_new_plan(planned: Ledger) -> None:
    """A batch made keeps its lot and what was weighed of it whatever is planned anew."""
    write.weigh(planned, GLAZE, CURE, **by("Max", BEFORE))
    write.make_batch(planned, GLAZE, **by("Max", MADE))
    write.commit_plan(planned, replace(plan(), batches=(), steps=(step("rub", LOADED, load=BRISKET),)),
                      **by("Ada", MADE))  # fmt: skip
    assert read.batch_states(planned, DAY)[0].lot == "1208-cider-glaze-1"
    assert [w.ingredient for w in read.weighings(planned, DAY)] == ["curing salt"]


def test_an_older_ledger_learns_to_weigh(path: Path, ledger: Ledger) -> None:
    """A ledger written before batches were weighed opens as it was, and goes on from there."""
    write.commit_plan(ledger, plan(), **by("Ada", EVENING))
    write.make_batch(ledger, GLAZE, "L7", **by("Max", EVENING))
    before = read.batch_states(ledger, DAY)
    ledger.close()
    old = Database(path)
    for statement in (
        "DROP TABLE weighings",
        "DROP TABLE uses",
        "DROP INDEX batches_lot",
        "ALTER TABLE batches DROP COLUMN discarded_why",
        "DELETE FROM _sqlite_migrations WHERE name LIKE '0007%'",
    ):
        old.execute(statement)
    old.conn.commit()
    old.conn.close()
    with open_ledger(path) as opened:
        assert read.batch_states(opened, DAY) == before
        write.mark_step(opened, f"{BRISKET}.rub", took=(Took(GLAZE, DAY, 1.0),), **by("Max", LOADED))
        assert [use.lot for use in read.uses(opened, DAY)] == ["L7"]


def test_a_batch_that_a_new_plan_leaves_out_is_told_so(planned: Ledger) -> None:
    """A plan is in force, only it has no batch: nothing says that none was committed."""
    write.commit_plan(planned, replace(plan(), batches=()), **by("Max", BEFORE))
    with pytest.raises(LedgerError, match=f"no batch {GLAZE}; no plan in force of these days has any"):
        write.weigh(planned, GLAZE, CURE, **by("Max", BEFORE))


def test_a_line_that_became_another_ingredient_is_weighed_anew(planned: Ledger) -> None:
    """30.2 g of salt on the line where 30.2 g of curing salt was weighed is no repeated tick."""
    write.weigh(planned, GLAZE, CURE, **by("Max", BEFORE))
    for other in (replace(CURE, ingredient="salt"), replace(CURE, asked_g=40.0)):
        assert not write.weigh(planned, GLAZE, other, **by("Max", BEFORE)).already


def test_an_ingredient_of_a_long_name_can_be_weighed(planned: Ledger) -> None:
    """A house file may name an ingredient in more letters than a person types."""
    long = "black pepper of the coarse grind, the jar on the upper shelf behind the scale, not the old one"
    write.weigh(planned, GLAZE, replace(CURE, ingredient=long), **by("Max", BEFORE))
    assert read.weighings(planned, DAY)[0].ingredient == long


def test_a_lot_is_no_other_batchs_name(planned: Ledger) -> None:
    """What stands on a tub names one batch: the plan's name of another is no lot."""
    other = replace(glaze(), id="1210-glaze-1")
    write.commit_plan(
        planned, replace(plan(), day=DAY + timedelta(days=1), batches=(other,)), **by("Max", BEFORE)
    )
    with pytest.raises(LedgerError, match=f"lot {GLAZE} is that of {GLAZE}"):
        write.make_batch(planned, other.id, GLAZE, **by("Max", MADE))
    made = write.make_batch(planned, other.id, **by("Max", MADE))
    assert read.batches_named(planned, GLAZE)[0].id == GLAZE
    assert made.data["lot"] != GLAZE
