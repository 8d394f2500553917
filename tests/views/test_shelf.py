"""Batches of older plans that are still good: shown with what is left, and traced when taken from."""

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from board.ledger import read, write
from board.ledger.open import Ledger
from board.planning.plan import Draw, Plan
from board.views.batch_card import card
from board.views.batches import batches
from board.views.facts import Facts, find_step
from board.views.gather import gather
from board.views.reference import ref
from board.views.taking import took
from tests.app.curing import curing_ledger
from tests.app.house_fixture import at

from .cure_fixture import CURE, HAMS, KEY, SERVED, curing_house, tuesday

LATER = timedelta(days=10)
NOW = at("12:00") + LATER


def said(moment: object) -> dict[str, object]:
    """Wren, at a moment."""
    return {"who": "wren", "at": moment, "noted_at": moment}


def ten_days_on(ledger: Ledger, *, taken: bool) -> Facts:
    """A cure that keeps a month, made on Saturday, ten days later; its hams had it or were never done."""
    keeps = replace(tuesday(), batches=(replace(tuesday().batches[0], use_by=at("13:00", 30)),))
    write.commit_plan(ledger, keeps, **said(at("10:00")))
    write.make_batch(ledger, CURE, **said(at("13:00")))
    if taken:
        facts = gather(ledger, curing_house(), at("18:00"))
        used = took(facts, facts.plans[SERVED], facts.plans[SERVED].steps[1])
        write.mark_step(ledger, "t-inject", took=used, **said(at("18:00")))
    write.commit_plan(ledger, drawing(), **said(NOW))
    return gather(ledger, curing_house(), NOW)


def drawing() -> Plan:
    """A plan of ten days later whose hams take 0.7 kg of what is left."""
    day = SERVED + LATER
    hams = replace(tuesday().loads[0], id="late-ham", load_at=tuesday().loads[0].load_at + LATER)
    inject = replace(tuesday().steps[1], id="l-inject", load="late-ham", at=NOW + timedelta(hours=6))
    draw = Draw(CURE, "ham-cure", "late-ham", 0.7, at("17:00"), at("13:00", 30))
    return replace(tuesday(), day=day, loads=(hams,), steps=(inject,), batches=(), draws=(draw,))


def test_what_is_left_of_an_old_batch_is_shown_and_taken_from(tmp_path: Path) -> None:
    """Where nothing was taken all of it is left, its card is there, and a draw is traced to its lot."""
    with curing_ledger(tmp_path / "board.db") as ledger:
        facts = ten_days_on(ledger, taken=False)
        assert set(facts.plans) == {SERVED + LATER}
        line = next(line for line in batches(facts).lines if line.key == KEY)
        assert line.state.endswith("2.9 kg left, lot 1219-ham-cure-1")
        assert line.fails == ()
        assert card(facts, ref(SERVED, CURE)) is not None
        step = find_step(facts.plans[SERVED + LATER], "l-inject")
        assert step is not None
        write.mark_step(ledger, step.id, took=took(facts, facts.plans[SERVED + LATER], step), **said(NOW))
        assert [(use.load, use.lot, use.kg) for use in read.uses_of(ledger, SERVED, CURE)] == [
            ("late-ham", "1219-ham-cure-1", 0.7)
        ]
        assert gather(ledger, curing_house(), NOW).shelf[0].left_kg == pytest.approx(2.18)


def test_an_old_batch_that_is_all_taken_is_gone(tmp_path: Path) -> None:
    """What its hams took is no longer shown, and gives nothing."""
    with curing_ledger(tmp_path / "board.db") as ledger:
        facts = ten_days_on(ledger, taken=True)
        assert facts.shelf == ()
        assert [use.load for use in read.uses_of(ledger, SERVED, CURE)] == [HAMS]
        assert batches(facts).lines == ()


def test_a_cure_for_a_day_far_ahead_is_seen(tmp_path: Path) -> None:
    """Hams of ten days later, whose cure is made today, are on the board today."""
    with curing_ledger(tmp_path / "board.db") as ledger:
        far = replace(tuesday(), day=SERVED + timedelta(days=8))
        write.commit_plan(ledger, far, **said(at("10:00")))
        days = {
            line.key.partition("/")[0] for line in batches(gather(ledger, curing_house(), at("12:00"))).lines
        }
    assert far.day.isoformat() in days
