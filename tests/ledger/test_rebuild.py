"""What is stored is what replaying the record gives, after anything people may do."""

import tempfile
from datetime import date, timedelta
from pathlib import Path

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule

from board.errors import LedgerError
from board.ledger import read, store, write
from board.ledger.answering import Rung
from board.ledger.checking import About, Right
from board.ledger.doctor.examine import examine
from board.ledger.facts import PinFacts
from board.ledger.keys import Key, borne_on, planned_keys
from board.ledger.open import Ledger, create_ledger, open_ledger
from board.ledger.state import (
    BatchStage,
    Entry,
    LoadStage,
    ProbeWay,
    RightClock,
    Took,
    WatchEnd,
    WatchKind,
    Weight,
)
from board.ledger.watching import Watched
from board.planning.plan_json import to_json

from .by_hand import DAY, EVENING, ZONE, brisket, plan

LOADS = ("a", "b", "c")
STAGES = [stage for stage in LoadStage if stage is not LoadStage.LOST]
loads = st.sampled_from(LOADS)
people = st.sampled_from(("Ada", "Ines"))
minutes = st.sampled_from((0, 0, 0, 1, 2, 10, 800))


def assert_rebuilt(ledger: Ledger) -> None:
    """Every row of state, and nothing else, follows from the record."""
    keys = {Key(row["family"], row["day"], row["id"]) for row in ledger.rows("SELECT * FROM bearing")}
    for key in keys:
        assert store.stored(ledger, key) == store.rebuilt(ledger, key)
    for family, table in store.TABLES.items():
        rows = ledger.rows(f"SELECT count(*) AS n FROM {table.name}")[0]["n"]
        assert rows == sum(1 for key in keys if key.family == family and store.rebuilt(ledger, key))


def assert_borne(ledger: Ledger, entry: Entry) -> None:
    """The index of what entries bear on follows from the record too."""
    rows = ledger.rows("SELECT family, day, id FROM bearing WHERE seq = ?", (entry.seq,))
    found = {Key(**row) for row in rows}
    if entry.kind != "plan":
        assert found == set(borne_on(entry))
        return
    version = entry.data["version"]
    plans = [read.plan_of_version(ledger, DAY, v) for v in (version, version - 1)]
    assert found == set().union(*(planned_keys(to_json(p)) for p in plans if p))


class Kitchen(RuleBasedStateMachine):
    """People marking, undoing and planning in any order, each thing taken or refused."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = tempfile.TemporaryDirectory()
        self.path = Path(self.folder.name) / "board.db"
        self.ledger = create_ledger(self.path, "Cinder & Rye", ZONE, self.path.parent)
        self.now = EVENING
        self.acknowledged: list[Entry] = []

    def record(self, what: object, *about: object, who: str = "Ada", ago: int = 0, **more: object) -> None:
        """Do one thing a minute after the last one, keeping what was acknowledged."""
        self.now += timedelta(minutes=1)
        at = self.now - timedelta(minutes=ago)
        try:
            entry = what(self.ledger, *about, who=who, at=at, noted_at=self.now, **more)  # type: ignore[operator]
        except LedgerError:
            return
        if not entry.already:
            self.acknowledged.append(entry)

    @initialize()
    def first_plan(self) -> None:
        """Begin with a plan of everything."""
        self.record(write.commit_plan, plan(*(brisket(name, EVENING) for name in LOADS)))

    @rule(names=st.sets(loads, min_size=1), later=st.integers(0, 3))
    def commit(self, names: set[str], later: int) -> None:
        """Plan some of the loads, at some time."""
        at = EVENING + timedelta(minutes=10 * later)
        self.record(write.commit_plan, plan(*(brisket(name, at) for name in sorted(names))))

    @rule(
        load=loads,
        stage=st.sampled_from(LoadStage),
        who=people,
        ago=minutes,
        n=st.none() | st.integers(0, 99),
    )
    def mark_load(self, load: str, stage: LoadStage, who: str, ago: int, n: int | None) -> None:
        """Mark any stage, now or late."""
        self.record(write.mark_load, load, stage, who=who, ago=ago, portions=n)

    @rule(load=loads, who=people, skip=st.integers(0, 1))
    def carry_on(self, load: str, who: str, skip: int) -> None:
        """Mark what comes next, or the one after it."""
        for state in read.load_states(self.ledger, DAY):
            if state.id == load and state.stage in STAGES:
                stage = STAGES[min(STAGES.index(state.stage) + 1 + skip, len(STAGES) - 1)]
                self.record(write.mark_load, load, stage, who=who)

    @rule(
        load=loads,
        pit=st.sampled_from(("north", "south", "little")),
        zone=st.sampled_from((None, "upper", "lower")),
        who=people,
        ago=minutes,
    )
    def move(self, load: str, pit: str, zone: str | None, who: str, ago: int) -> None:
        """Carry a load over to some pit, or to a zone of it."""
        self.record(write.move_load, load, pit, zone=zone, who=who, ago=ago)

    @rule(load=loads, what=st.sampled_from(("rub", "load", "wrap", "pull", "slice")), who=people, ago=minutes)
    def mark_step(self, load: str, what: str, who: str, ago: int) -> None:
        """Mark any step."""
        self.record(write.mark_step, f"{load}.{what}", who=who, ago=ago)

    @rule(step=st.sampled_from(("north.light", "1209-glaze-1.make")), who=people)
    def mark_other_step(self, step: str, who: str) -> None:
        """Light the pit or make the glaze by their steps."""
        self.record(write.mark_step, step, who=who)

    @rule(stage=st.sampled_from(BatchStage), who=people, ago=minutes)
    def mark_batch(self, stage: BatchStage, who: str, ago: int) -> None:
        """Mark the glaze."""
        self.record(write.mark_batch, "1209-glaze-1", stage, who=who, ago=ago)

    @rule(lot=st.sampled_from((None, "1209-g", "G 7")), who=people, ago=minutes)
    def make(self, lot: str | None, who: str, ago: int) -> None:
        """Make the glaze under a lot."""
        self.record(write.make_batch, "1209-glaze-1", lot, who=who, ago=ago)

    @rule(
        line=st.integers(1, 2),
        grams=st.sampled_from((0.0, 12.5, 800.0)),
        reader=st.sampled_from((None, "Ada", "Wren")),
        who=people,
        ago=minutes,
    )
    def weigh(self, line: int, grams: float, reader: str | None, who: str, ago: int) -> None:
        """Weigh a line of the glaze, read by somebody or nobody else."""
        weight = Weight(line, "cider", 800.0, grams)
        self.record(write.weigh, "1209-glaze-1", weight, reader=reader, who=who, ago=ago)

    @rule(load=loads, batch=st.sampled_from(("1209-glaze-1", "no-such")), who=people, ago=minutes)
    def use(self, load: str, batch: str, who: str, ago: int) -> None:
        """Rub a load with some of a batch."""
        self.record(write.mark_step, f"{load}.rub", took=(Took(batch, DAY, 0.4),), who=who, ago=ago)

    @rule(setpoint=st.sampled_from((None, 110.0, 118.0)), who=people)
    def light(self, setpoint: float | None, who: str) -> None:
        """Light a pit, turn it up or let it go out."""
        if setpoint is None:
            self.record(write.put_out, "north", who=who)
        else:
            self.record(write.light, "north", setpoint, who=who)

    @rule(load=st.none() | loads, temperature_c=st.floats(-60, 420), who=people, ago=minutes)
    def read_temperature(self, load: str | None, temperature_c: float, who: str, ago: int) -> None:
        """Read a load's core or the pit's air."""
        place = None if load else "north"
        self.record(write.take_reading, temperature_c, load=load, place=place, who=who, ago=ago)

    @rule(portions=st.integers(-1, 60), who=people)
    def sell(self, portions: int, who: str) -> None:
        """Sell some portions; none left to say means sold out."""
        if portions < 0:
            self.record(write.sold_out, DAY, "lunch", "sliced-brisket", who=who)
        else:
            self.record(write.sell, DAY, "lunch", "sliced-brisket", portions, who=who)

    @rule(portions=st.integers(0, 2), who=people)
    def promise(self, portions: int, who: str) -> None:
        """Change what was promised."""
        self.record(write.set_promise, DAY, "lunch", "sliced-brisket", portions, who=who)

    @rule(hour=st.integers(0, 2), load=st.sampled_from(LOADS), who=people)
    def pin(self, hour: int, load: str, who: str) -> None:
        """Pin a load to a time, or let it go."""
        if hour:
            at = EVENING + timedelta(hours=hour)
            pin = PinFacts(DAY, load, "north", None, None, at, pieces=hour if hour > 1 else None)
            self.record(write.pin_load, pin, who=who)
        else:
            self.record(write.unpin_load, DAY, load, who=who)

    @rule(
        kind=st.sampled_from(WatchKind),
        load=st.none() | loads,
        amount=st.sampled_from((None, "2 pans")),
        made_on=st.sampled_from((None, DAY)),
        who=people,
        ago=minutes,
    )
    def watch(
        self, kind: WatchKind, load: str | None, amount: str | None, made_on: date | None, who: str, ago: int
    ) -> None:
        """Watch some food, on from the watch before where there is one."""
        before = next((watch.id for watch in read.watches(self.ledger)), None)
        where: dict[str, str] = {"place": "walk-in", "way": "fridge"} if kind is WatchKind.THAWING else {}
        watched = Watched(
            kind, "beans", load=load, amount=amount, made_on=made_on, from_watch=before, **where
        )
        self.record(write.start_watch, watched, who=who, ago=ago)

    @rule(data=st.data(), celsius=st.floats(-40, 100), who=people, ago=minutes)
    def read_watched(self, data: st.DataObject, celsius: float, who: str, ago: int) -> None:
        """Read what is watched."""
        watches = [watch.id for watch in read.watches(self.ledger)]
        place = data.draw(st.sampled_from([*watches, "walk-in"]))
        self.record(write.take_reading, celsius, place=place, who=who, ago=ago)

    @rule(data=st.data(), how=st.sampled_from((*WatchEnd, "frozen", "thawed")), who=people, ago=minutes)
    def carry_on_watching(self, data: st.DataObject, how: str, who: str, ago: int) -> None:
        """End a watch, freeze its lot or thaw it."""
        watches = [watch.id for watch in read.watches(self.ledger)]
        watch = data.draw(st.sampled_from([*watches, "none"]))
        if how == "frozen":
            self.record(write.freeze, watch, who=who, ago=ago)
        elif how == "thawed":
            self.record(write.take_out, watch, who=who, ago=ago)
        else:
            self.record(write.end_watch, watch, WatchEnd(how), who=who, ago=ago)

    @rule(data=st.data(), right=st.none() | st.floats(-60, 420), earlier=st.none() | minutes, who=people)
    def correct(self, data: st.DataObject, right: float | None, earlier: int | None, who: str) -> None:
        """Correct any entry's temperature, time or words."""
        last = self.acknowledged[-1].seq if self.acknowledged else 1
        seq = data.draw(st.integers(1, last))
        taken_at = None if earlier is None else self.now - timedelta(minutes=earlier)
        self.record(write.correct, seq, Right(right, taken_at, "better"), who=who)

    @rule(data=st.data(), who=people)
    def vouch(self, data: st.DataObject, who: str) -> None:
        """Say what was done about an entry, check a probe, or sign."""
        last = self.acknowledged[-1].seq if self.acknowledged else 1
        self.record(write.act_on, About(entry=data.draw(st.integers(1, last))), "stirred", who=who)
        self.record(write.check_probe, "red", ProbeWay.ICE, 0.5, 300.0, who=who)
        self.record(write.sign, EVENING, self.now, who=who)

    @rule(step=st.integers(1, 3), later=st.integers(-5, 60), who=people, ago=minutes)
    def answer(self, step: int, later: int, who: str, ago: int) -> None:
        """Answer an alarm, or put it off."""
        rung = Rung("late/a", step, "the briskets are late", "a", DAY)
        if later % 2:
            self.record(write.answer_alarm, rung, "wood on", who=who, ago=ago)
        else:
            until = self.now + timedelta(minutes=later)
            self.record(write.put_off_alarm, rung, until, who=who, ago=ago)

    @rule(right=st.sampled_from(RightClock), minutes=st.integers(-600, 600), who=people)
    def settle_the_clock(self, right: RightClock, minutes: int, who: str) -> None:
        """Say which clock is right."""
        self.record(write.settle_clock, right, timedelta(minutes=minutes), who=who)

    @rule(text=st.text(max_size=20), who=people)
    def write_a_note(self, text: str, who: str) -> None:
        """Write anything at all."""
        self.record(write.note, text, about=text, who=who)

    @rule(data=st.data(), who=people)
    def undo(self, data: st.DataObject, who: str) -> None:
        """Take back one's last entry, or any."""
        last = self.acknowledged[-1].seq if self.acknowledged else 1
        self.record(write.undo, data.draw(st.none() | st.integers(1, last)), who=who)

    @rule()
    def restart(self) -> None:
        """Close the board and open it again."""
        self.ledger.close()
        self.ledger = open_ledger(self.path)

    @invariant()
    def the_last_entry_is_there(self) -> None:
        """What was acknowledged is in the record, numbered without gaps."""
        if self.acknowledged:
            entry = self.acknowledged[-1]
            assert entry.seq == len(self.acknowledged)
            assert read.entry(self.ledger, entry.seq) == entry
            assert_borne(self.ledger, entry)

    def teardown(self) -> None:
        """What is stored is what replaying gives, and the whole record is as acknowledged."""
        assert_rebuilt(self.ledger)
        undone = {entry.undoes for entry in self.acknowledged}
        for entry in read.entries(self.ledger, since_seq=0):
            assert entry.undone == (entry.seq in undone)
        assert self.ledger.db.execute("PRAGMA foreign_key_check").fetchall() == []
        self.ledger.close()
        assert examine(self.path).faults == ()
        self.folder.cleanup()


Kitchen.TestCase.settings = settings(max_examples=25, stateful_step_count=40, deadline=None)
test_kitchen = Kitchen.TestCase
