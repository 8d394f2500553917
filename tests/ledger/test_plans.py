"""Plan versions: what is kept, what is replaced, and what changed in words."""

import json
from dataclasses import replace
from datetime import timedelta
from hashlib import sha256
from pathlib import Path
from threading import Barrier, Thread

from board.ledger import read, write
from board.ledger.open import Ledger, create_ledger, open_ledger
from board.ledger.plans import OvertakenError, changes
from board.ledger.state import LoadStage
from board.planning.plan_json import from_json, to_json

from .by_hand import DAY, EVENING, LOADED, ZONE, brisket, glaze, plan
from .test_write import BRISKET, HOUR, by

SHOULDER = replace(brisket("1209-shoulder-1"), cut="shoulder", item="pulled-pork", pit="south")


def test_the_plan_comes_back_as_committed(planned: Ledger) -> None:
    """The plan in force is the one that was committed, and its fingerprint is in the record."""
    assert read.current_plan(planned, DAY) == from_json(to_json(plan()))
    assert read.current_plan(planned, DAY + timedelta(days=1)) is None
    entry = read.entries(planned, kinds=["plan"])[0]
    kept = planned.row("SELECT document FROM plans")
    assert kept is not None
    assert entry.data["sha256"] == sha256(kept["document"].encode()).hexdigest()
    assert json.loads(kept["document"])["day"] == "2026-12-09"


def test_versions_are_all_kept(planned: Ledger) -> None:
    """Every version stays readable, with who committed it, why, and what it changed."""
    write.commit_plan(planned, plan(brisket(), SHOULDER), "more guests", **by("Ada", EVENING))
    first, second = read.plan_versions(planned, DAY)
    assert (first.version, first.changes) == (1, ("first plan: 1 load, 1 batch",))
    assert (second.version, second.who, second.reason) == (2, "Ada", "more guests")
    assert second.changes == ("shoulder added on south",)
    old = read.plan_of_version(planned, DAY, 1)
    assert old is not None
    assert [load.id for load in old.loads] == [BRISKET]
    assert read.plan_of_version(planned, DAY, 3) is None
    assert read.planned_days(planned, DAY, DAY) == [DAY]


def test_the_same_plan_again_changes_nothing(ledger: Ledger) -> None:
    """What a document rounds away is no change."""
    fine = replace(plan(), batches=(replace(glaze(), amount_kg=2.40004),))
    for _ in range(2):
        entry = write.commit_plan(ledger, fine, **by("Ada", EVENING))
    assert entry.data["changes"] == []


def test_what_was_not_started_is_replaced(planned: Ledger) -> None:
    """Planned loads and open steps of the version before go; those of the new one come."""
    write.commit_plan(planned, plan(SHOULDER), **by("Ada", EVENING))
    assert [state.id for state in read.load_states(planned, DAY)] == [SHOULDER.id]
    assert {step.load for step in read.step_states(planned, DAY) if step.load} == {SHOULDER.id}


def test_what_was_started_keeps_its_facts(planned: Ledger) -> None:
    """A load on the pit stays, as dropped, when the new version forgets it; a later one takes it up again."""
    write.mark_load(planned, BRISKET, LoadStage.ON, **by("Ines", LOADED))
    write.commit_plan(planned, plan(SHOULDER), **by("Ada", LOADED + HOUR))
    state = read.load_states(planned, DAY)[0]
    assert (state.id, state.stage, state.on_at, state.dropped) == (BRISKET, LoadStage.ON, LOADED, True)
    write.mark_load(planned, BRISKET, LoadStage.WRAPPED, **by("Ines", LOADED + 7 * HOUR))
    write.commit_plan(planned, plan(brisket(), SHOULDER), **by("Ada", LOADED + 8 * HOUR))
    state = read.load_states(planned, DAY)[0]
    assert (state.stage, state.dropped) == (LoadStage.WRAPPED, False)


def test_what_changed_in_words() -> None:
    """Each change is a sentence, in the house's time."""
    moved = replace(brisket(load_at=LOADED + timedelta(minutes=15)), pit="south", pieces=11, setpoint_c=121.0)
    assert changes(plan(), plan(moved)) == (
        "brisket moved from north to south",
        "brisket 11 pieces instead of 12",
        "brisket cooked at 121 °C instead of 118 °C",
        "brisket load at 19:15 instead of 19:00",
    )
    assert changes(plan(), plan(SHOULDER)) == ("brisket dropped", "shoulder added on south")
    assert changes(plan(), plan()) == ()


def test_changes_of_batches_in_words() -> None:
    """Batches are dropped, added, made bigger or made earlier."""
    without = replace(plan(), batches=())
    later = replace(glaze(), amount_kg=3.0, make_by=glaze().make_by + timedelta(days=1))
    assert changes(plan(), without) == ("cider-glaze dropped",)
    assert changes(without, plan()) == ("cider-glaze added",)
    assert changes(plan(), replace(plan(), batches=(later,))) == (
        "cider-glaze: 3.00 kg instead of 2.40 kg",
        "cider-glaze: make by 05:00 on 2026-12-10 instead of 05:00 on 2026-12-09",
    )


def test_several_loads_of_a_cut_are_told_apart() -> None:
    """Where there are two loads of brisket, sentences name them by their ids."""
    two = plan(brisket(), brisket("1209-brisket-2"))
    assert changes(plan(), two) == ("1209-brisket-2 added on north",)


def test_zones_and_turns_are_changes_too() -> None:
    """Another zone of the same pit, a new turn and one given up are told."""
    low, high = replace(brisket(), zone="lower"), replace(brisket(), zone="upper")
    assert changes(plan(low), plan(high)) == ("brisket moved from north, lower to north, upper",)
    turned = replace(low, turn_at=LOADED + 7 * HOUR, then_c=135.0)  # loaded at 19:00 in Denver
    assert changes(plan(low), plan(turned)) == ("brisket turned to 135 °C at 02:00",)
    assert changes(plan(turned), plan(low)) == ("brisket stays at 118 °C",)


def test_of_two_plans_made_at_once_one_is_committed(tmp_path: Path) -> None:
    """Two connections commit over the same version together: one wins, the other learns of whom and when."""
    path = tmp_path / "board.db"
    create_ledger(path, "Cinder Lane", ZONE, tmp_path).close()
    lost: list[OvertakenError] = []
    start = Barrier(2)

    def commit(who: str) -> None:
        with open_ledger(path) as ledger:
            start.wait()
            try:
                write.commit_plan(ledger, plan(), f"by {who}", over=0, **by(who, EVENING))
            except OvertakenError as error:
                lost.append(error)

    boards = [Thread(target=commit, args=(who,)) for who in ("Ada", "Max")]
    for one in boards:
        one.start()
    for one in boards:
        one.join()
    with open_ledger(path) as ledger:
        (won,) = read.plan_versions(ledger, DAY)
        (error,) = lost
        assert error.version == won
        clock = ledger.clock(EVENING)
        assert str(error) == f"{won.who} committed another plan of {DAY} at {clock}; this one is not"
        write.commit_plan(ledger, plan(SHOULDER), over=won.version, **by("Max", EVENING))
        assert [version.version for version in read.plan_versions(ledger, DAY)] == [1, 2]
