"""The ledger beside a model of plain lists that shares no code with it: both take and refuse the same."""

import os
import tempfile
from copy import deepcopy
from datetime import datetime, timedelta
from pathlib import Path

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from board.errors import LedgerError
from board.ledger import read, write
from board.ledger.backups.catalogue import folder_of
from board.ledger.backups.copy import copy_into
from board.ledger.backups.named import Kind
from board.ledger.backups.restore import restore
from board.ledger.checking import Right
from board.ledger.doctor.examine import examine
from board.ledger.open import create_ledger, open_ledger
from board.ledger.state import LoadStage
from board.ledger.typed import Said

from .by_hand import DAY, EVENING, ZONE, brisket, plan
from .plain_model import PORTIONS, STAGES, Deed, PlainLedger, RefusedError

LOADS = ("a", "b", "c")
LUNCH = (DAY, "lunch", "sliced-brisket")
people = st.sampled_from(("Ada", "Ines"))
loads = st.sampled_from(LOADS)
ago = st.sampled_from((0, 0, 0, 1, 2, 3, 10, 30))
celsius = st.sampled_from((-41.0, -18.0, 4.0, 54.5, 93.0, 401.0))


def moment(minute: int) -> datetime:
    """So many minutes after the evening began."""
    return EVENING + timedelta(minutes=minute)


def minute(at: datetime | None) -> int | None:
    """The minute of a moment."""
    return None if at is None else round((at - EVENING) / timedelta(minutes=1))


class Both(RuleBasedStateMachine):
    """People do things to both; each takes what the other takes, and answers what it answers."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = tempfile.TemporaryDirectory()
        self.path = Path(self.folder.name) / "board.db"
        self.ledger = create_ledger(self.path, "Cinder & Rye", ZONE, self.path.parent)
        self.model = PlainLedger()
        self.now = 0
        self.kept: list[tuple[Path, PlainLedger]] = []

    def both(self, expected: Deed, what: object, *about: object, who: str, at: int, **more: object) -> None:
        """Do a thing to both: written in both, found in both, or refused by both."""
        try:
            is_written: bool | None = expected(self.model)
        except RefusedError:
            is_written = None
        try:
            entry = what(self.ledger, *about, who=who, at=moment(at), noted_at=moment(self.now), **more)  # type: ignore[operator]
        except LedgerError as error:
            answer: bool | str = str(error)
        else:
            answer = not entry.already
        assert (answer == is_written) if is_written is not None else isinstance(answer, str), answer

    def then(self, minutes: int = 0) -> int:
        """A minute further; so many minutes before that."""
        self.now += 1
        return self.now - minutes

    @initialize()
    def first_plan(self) -> None:
        """Begin with a plan of everything."""
        self._commit(LOADS, 0, "Ada")

    @rule(names=st.sets(loads, min_size=1), later=st.integers(0, 3), who=people)
    def commit(self, names: set[str], later: int, who: str) -> None:
        """Plan some of the loads at some time."""
        self._commit(tuple(sorted(names)), 10 * later, who)

    def _commit(self, names: tuple[str, ...], load_at: int, who: str) -> None:
        at = self.then()
        made = plan(*(brisket(name, moment(load_at)) for name in names))
        self.both(lambda m: m.commit(who, at, names, load_at), write.commit_plan, made, who=who, at=at)

    @rule(
        load=loads,
        stage=st.sampled_from(STAGES),
        portions=st.none() | st.integers(0, 99),
        who=people,
        ago=ago,
    )
    def mark(self, load: str, stage: str, portions: int | None, who: str, ago: int) -> None:
        """Mark any stage, now or late."""
        self._mark(load, stage, portions, who, self.then(ago))

    def _mark(self, load: str, stage: str, portions: int | None, who: str, at: int) -> None:
        self.both(
            lambda m: m.mark(who, at, load, stage, portions),
            write.mark_load,
            load,
            LoadStage(stage),
            portions=portions,
            who=who,
            at=at,
        )

    @rule(load=loads, skip=st.integers(1, 2), who=people)
    def carry_on(self, load: str, skip: int, who: str) -> None:
        """Mark what comes next for a load, or the one after it."""
        found = self.model.load(load)
        if found is not None and not found.is_gone:
            so_far = STAGES.index(found.stage) if found.times else -1
            self._mark(load, STAGES[min(so_far + skip, len(STAGES) - 2)], None, who, self.then())

    @rule(name=loads | st.just("walk-in"), celsius=celsius, who=people, ago=ago)
    def take_reading(self, name: str, celsius: float, who: str, ago: int) -> None:
        """Read a load's core or the walk-in."""
        at = self.then(ago)
        where = {"place": name} if name == "walk-in" else {"load": name}
        self.both(
            lambda m: m.read(who, at, name, celsius), write.take_reading, celsius, who=who, at=at, **where
        )

    @rule(portions=st.integers(1, 120), who=people, ago=ago)
    def sell(self, portions: int, who: str, ago: int) -> None:
        """Sell some."""
        at = self.then(ago)
        self.both(lambda m: m.sell(who, at, portions), write.sell, *LUNCH, portions, who=who, at=at)

    @rule(who=people)
    def sell_out(self, who: str) -> None:
        """Sell the last."""
        at = self.then()
        self.both(lambda m: m.sell_out(who, at), write.sold_out, *LUNCH, who=who, at=at)

    @rule(portions=st.integers(0, 2), who=people)
    def promise(self, portions: int, who: str) -> None:
        """Promise some."""
        at = self.then()
        self.both(lambda m: m.promise(who, at, portions), write.set_promise, *LUNCH, portions, who=who, at=at)

    @rule(setpoint=st.sampled_from((None, 110.0, 118.0)), who=people, ago=ago)
    def light(self, setpoint: float | None, who: str, ago: int) -> None:
        """Light a pit that no plan lights, ask it for more, or let it go out."""
        at, how = self.then(ago), ("south",) if setpoint is None else ("south", setpoint)
        what = write.put_out if setpoint is None else write.light
        self.both(lambda m: m.light(who, at, setpoint), what, *how, who=who, at=at)

    @rule(who=people)
    def note(self, who: str) -> None:
        """Write a note."""
        at = self.then()
        self.both(lambda m: m.note(who, at), write.note, "wood is wet", who=who, at=at)

    @rule(data=st.data(), who=people)
    def undo(self, data: st.DataObject, who: str) -> None:
        """Take back one's last, or any entry."""
        at, seq = self.then(), data.draw(st.none() | st.integers(1, len(self.model.lines) + 1))
        self.both(lambda m: m.undo(who, at, seq), write.undo, seq, who=who, at=at)

    @rule(data=st.data(), right=celsius, who=people)
    def correct(self, data: st.DataObject, right: float, who: str) -> None:
        """Put some entry's degrees right, where it has any."""
        at, seq = self.then(), data.draw(st.integers(1, len(self.model.lines) + 1))
        self.both(
            lambda m: m.correct(who, at, seq, right, None), write.correct, seq, Right(right), who=who, at=at
        )

    @rule(data=st.data(), ago=st.integers(0, 40), who=people)
    def put_time_right(self, data: st.DataObject, ago: int, who: str) -> None:
        """Say when something truly happened."""
        at, seq = self.then(), data.draw(st.integers(1, len(self.model.lines) + 1))
        right = Right(taken_at=moment(at - ago))
        self.both(
            lambda m: m.correct(who, at, seq, None, at - ago), write.correct, seq, right, who=who, at=at
        )

    @rule()
    def restart(self) -> None:
        """Close the board and open it again."""
        self.ledger.close()
        self.ledger = open_ledger(self.path)

    @rule()
    def back_up(self) -> None:
        """Keep a backup, and the model as it is."""
        backup = copy_into(folder_of(self.path), self.path, Kind.ASKED, moment(self.then()))
        self.kept.append((backup.path, deepcopy(self.model)))

    @precondition(lambda self: self.kept)
    @rule(data=st.data(), who=people, closed=st.booleans())
    def put_back(self, data: st.DataObject, who: str, closed: bool) -> None:
        """Restore one of the backups, while the board is open or closed."""
        backup, model = data.draw(st.sampled_from(self.kept))
        at = self.then()
        if closed:
            self.ledger.close()
        restore(self.path, backup, Said(who, moment(at), moment(at)))
        if closed:
            self.ledger = open_ledger(self.path)
        self.model = deepcopy(model)
        self.model.restored(who, at)

    @invariant()
    def the_records_are_the_same(self) -> None:
        """Every entry, in its order, and whether it was taken back."""
        gone = {line.undoes for line in self.model.lines}
        told = [(m.seq, m.at, m.who, m.kind, m.undoes, m.seq in gone) for m in self.model.lines]
        found = read.entries(self.ledger, since_seq=0)
        assert [(e.seq, minute(e.at), e.who, e.kind, e.undoes, e.undone) for e in found] == told

    @invariant()
    def the_loads_are_the_same(self) -> None:
        """Stages with their times, portions left, and what a plan dropped."""
        found = {
            one.id: (
                {stage: minute(at) for stage in STAGES if (at := getattr(one, f"{stage}_at")) is not None},
                str(one.stage), one.portions_left, one.dropped, one.portions,
            )
            for one in read.load_states(self.ledger, DAY)
        }  # fmt: skip
        assert found == {
            name: (load.times, load.stage, load.left, load.dropped, PORTIONS)
            for name, load in self.model.loads().items()
        }

    @invariant()
    def all_else_is_the_same(self) -> None:
        """Readings as corrected, what is promised and sold, and the fire."""
        readings = {
            one.seq: (one.place, minute(one.at), one.temperature_c, one.as_read_c, one.corrected_by)
            for one in read.readings(self.ledger)
        }
        assert readings == self.model.readings()
        assert read.promises(self.ledger, DAY).get(LUNCH[1:]) == self.model.promised()
        sold = read.sold(self.ledger, DAY).get(LUNCH[1:])
        assert (sold and (sold.sold, minute(sold.sold_out_at))) == self.model.sold()
        fire = read.pit_states(self.ledger).get("south")
        assert (fire and (minute(fire.lit_at), fire.setpoint_c)) == self.model.fire()

    def teardown(self) -> None:
        """And doctor finds nothing wrong."""
        self.ledger.close()
        if self.model.lines:
            assert [fault for look in examine(self.path).looks for fault in look.faults] == []
        self.folder.cleanup()


EXAMPLES = int(os.environ.get("BOARD_MODEL", "15"))
Both.TestCase.settings = settings(max_examples=EXAMPLES, stateful_step_count=50, deadline=None)
test_both = Both.TestCase
