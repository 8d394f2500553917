"""Where a clock was set, and whose times are doubtful, against histories whose truth is drawn."""

from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from itertools import pairwise

from hypothesis import assume, example, given
from hypothesis import strategies as st

from board.ledger.clock_settings import Stretch, stand_of
from board.ledger.clocks import APART, Noted, clocks_of

START = datetime(2026, 12, 19, 3, tzinfo=UTC)
WAITED_S = 10  # the most that passes between looking at the clock and at the count


@dataclass
class Machine:
    """A machine whose true time, clock and count are known; the count goes on while it sleeps."""

    true: datetime = START
    error: timedelta = timedelta(0)
    boot: int = 0
    booted: datetime = START
    entries: list[Noted] = field(default_factory=list)
    errors: list[timedelta] = field(default_factory=list)

    def passes(self, seconds: float) -> None:
        """Time goes on, awake or asleep."""
        self.true += timedelta(seconds=seconds)

    def set_to(self, error: timedelta) -> None:
        """Somebody sets the clock: wrong by so much, or right."""
        self.error = error

    def boots(self) -> None:
        """The machine starts again: its count from nought, its clock as it was."""
        self.boot, self.booted = self.boot + 1, self.true

    def writes(self, waited_s: float = 0.0) -> None:
        """An entry is written, its count looked at a little after its time."""
        at = self.true + self.error
        self.true += timedelta(seconds=waited_s)
        up = (self.true - self.booted) // timedelta(milliseconds=1)
        self.entries.append(Noted(len(self.entries) + 1, at, f"boot-{self.boot}", up))
        self.errors.append(self.error)


def written(machine: Machine, *minutes: int) -> Machine:
    """An entry after each of some minutes."""
    for passed in minutes:
        machine.passes(60 * passed)
        machine.writes()
    return machine


def doubted(entries: list[Noted]) -> set[int]:
    """The numbers of the entries whose times are doubtful."""
    clocks = clocks_of(entries)
    return {one.seq for one in entries if clocks.doubt(one.seq)}


waits = st.floats(0, WAITED_S)
passings = st.floats(1, 30_000)
wrongs = st.integers(-9_000, 9_000).map(lambda seconds: timedelta(seconds=seconds))
acts = st.lists(st.tuples(st.sampled_from("wwwpsbz"), passings, wrongs, waits), min_size=1, max_size=40)


def lived(drawn: list[tuple[str, float, timedelta, float]], error: timedelta | None = None) -> Machine:
    """A machine that went through what was drawn; its clock wrong by no more than `error`, where given."""
    machine = Machine()
    for act, seconds, wrong, waited in drawn:
        if act == "w":
            machine.writes(waited)
        elif act == "s":
            machine.set_to(wrong if error is None else max(-error, min(error, wrong)))
        elif act == "b":
            machine.boots()
        else:
            machine.passes(seconds)
    return machine


@given(acts)
def test_each_setting_is_found_between_its_entries_and_by_how_much(
    drawn: list[tuple[str, float, timedelta, float]],
) -> None:
    """Two entries of one boot tell a setting of more than a minute, give or take what a writer waited."""
    machine = lived(drawn)
    found = {(one.after, one.before): one.by for one in clocks_of(machine.entries).sets}
    known = zip(machine.entries, machine.errors, strict=True)
    for (before, wrong), (after, other) in pairwise(known):
        by, told = other - wrong, found.pop((before.seq, after.seq), None)
        if before.boot != after.boot or abs(by) < APART - timedelta(seconds=WAITED_S):
            assert told is None
        elif abs(by) > APART + timedelta(seconds=WAITED_S):
            assert told is not None
        assert told is None or abs(told - by) <= timedelta(seconds=WAITED_S + 0.01)
    assert not found


@given(acts)
def test_a_clock_that_was_never_wrong_is_never_doubted(
    drawn: list[tuple[str, float, timedelta, float]],
) -> None:
    """Sleep, boots and small corrections throw no doubt on anything."""
    machine = lived(drawn, error=timedelta(seconds=5))
    clocks = clocks_of(machine.entries)
    assert not clocks.sets
    assert not clocks.doubts


@given(st.lists(st.integers(1, 90), min_size=1, max_size=8), wrongs, st.integers(0, 2), st.booleans())
def test_a_stretch_between_two_settings_is_doubted_whole_and_nothing_else(
    minutes: list[int], wrong: timedelta, boots: int, is_right_first: bool
) -> None:
    """A clock set wrong for less time than it was right: what it wrote then, and how far it was ahead."""
    assume(abs(wrong) > 2 * APART)
    machine = Machine()
    for _ in range(boots):
        written(machine, 30, 60).boots()
        machine.passes(60)
    longer = [1 + sum(minutes), 1 + sum(minutes), 1]
    if is_right_first:
        written(machine, *longer)
    machine.set_to(wrong)
    first = len(machine.entries) + 1
    written(machine, *minutes)
    last = len(machine.entries)
    machine.set_to(timedelta(0))
    written(machine, *longer)
    clocks = clocks_of(machine.entries)
    assert [(one.spans, one.ahead) for one in clocks.doubts] == [(((first, last),), wrong)]


def test_the_clock_that_stood_longer_is_taken_for_right() -> None:
    """Set once and never back, the few entries of a clock that was put right soon are the doubtful ones."""
    machine = Machine(error=timedelta(hours=2))
    written(machine, 1, 5)
    machine.set_to(timedelta(0))
    written(machine, 1, 30, 60)
    assert doubted(machine.entries) == {1, 2}


def test_with_nothing_to_choose_by_the_clock_that_was_set_is_doubted() -> None:
    """An entry before and an entry after: the one after is doubted, set back or on."""
    for hours in (-2, 2):
        machine = written(Machine(), 5)
        machine.set_to(timedelta(hours=hours))
        assert doubted(written(machine, 5).entries) == {2}


def test_what_a_person_said_goes_before_what_stood_longer() -> None:
    """Where somebody said that the clock is right now, all that another setting wrote is doubtful."""
    machine = written(Machine(error=timedelta(hours=-1)), 5, 60, 60)
    machine.set_to(timedelta(0))
    written(machine, 1)
    assert doubted(machine.entries) == {4}
    clocks = clocks_of(machine.entries, told={4})
    assert [(one.spans, one.ahead) for one in clocks.doubts] == [(((1, 3),), timedelta(hours=-1))]


def test_a_boot_with_an_empty_battery_is_doubted_as_a_whole() -> None:
    """A clock that begins years back says nothing of how far it is off until it is set."""
    machine = written(Machine(), 5, 30)
    machine.boots()
    machine.set_to(timedelta(days=-9_000))
    written(machine, 5, 5)
    machine.boots()
    machine.set_to(timedelta(0))
    written(machine, 5, 30)
    clocks = clocks_of(machine.entries)
    assert [(one.spans, one.ahead) for one in clocks.doubts] == [(((3, 4),), None)]


def test_a_boot_whose_clock_was_set_goes_by_what_is_in_order_with_the_boots_before() -> None:
    """Years back for longer, then right: the boot before tells which of the two goes on in time."""
    machine = written(Machine(), 5, 30)
    machine.boots()
    machine.set_to(timedelta(days=-9_000))
    written(machine, 5, 20)
    machine.set_to(timedelta(0))
    written(machine, 5)
    assert doubted(machine.entries) == {3, 4}


def test_counts_of_boots_that_cannot_be_told_apart_leave_the_order_alone() -> None:
    """Where no boot is known, the fewest entries are doubted that leave the others in order."""
    hours = (0, 1, 2, 30, 3, 4, 5, 2, 6)
    entries = [Noted(n, START + timedelta(hours=h), "", 77 * n % 13) for n, h in enumerate(hours, 1)]
    assert doubted(entries) == {4, 8}


def test_times_that_were_told_are_never_doubted() -> None:
    """Entries without any count, in whatever order, say nothing of a clock."""
    entries = [Noted(n, START + timedelta(hours=h), "", None) for n, h in enumerate((4, 2, 9, 1), 1)]
    assert clocks_of(entries) == clocks_of([])


def test_a_ledger_carried_to_another_machine_is_not_doubted_for_it() -> None:
    """That another machine was up before the last entry of the first one is nobody's clock set wrong."""
    first, second = written(Machine(), 5, 60), Machine(boot=9, booted=START - timedelta(days=3))
    second.entries, second.errors = first.entries, first.errors
    second.passes(60 * 90)
    assert doubted(written(second, 5, 5).entries) == set()


@given(st.permutations(["a"] * 6 + ["b"] * 6))
def test_two_machines_by_turns_are_not_doubted(turns: list[str]) -> None:
    """Two sound machines that write by turns, each with its own count, are both believed."""
    up = {"a": 5_000_000, "b": 90_000}
    entries = []
    for n, boot in enumerate(turns, 1):
        minutes = timedelta(minutes=7 * n)
        entries.append(Noted(n, START + minutes, boot, up[boot] + minutes // timedelta(milliseconds=1)))
    assert not clocks_of(entries).sets
    assert not clocks_of(entries).doubts


@dataclass
class Alike:
    """Entries whose clock less count lie near each other, and how long they stood one after the other."""

    entries: list[Noted]
    held_ms: int = 0

    def is_near(self, noted: Noted) -> bool:
        """Whether the entry is no more than a minute from one of them."""
        return any(abs(clock_less_count(one) - clock_less_count(noted)) <= APART for one in self.entries)


def clock_less_count(noted: Noted) -> timedelta:
    """By how much the clock is past the start of all, less the count."""
    return noted.noted_at - START - timedelta(milliseconds=noted.up_ms or 0)


def alike(entries: list[Noted]) -> list[Alike]:
    """Each entry put with all that are near it, those it joins made one."""
    found: list[Alike] = []
    for before, noted in zip([None, *entries], entries, strict=False):
        near = [one for one in found if one.is_near(noted)]
        joined = Alike([one for group in near for one in group.entries], sum(one.held_ms for one in near))
        if before in joined.entries:
            joined.held_ms += (noted.up_ms or 0) - (before.up_ms or 0)
        joined.entries.append(noted)
        found = [*(one for one in found if one not in near), joined]
    return found


@given(st.lists(st.tuples(st.integers(0, 30), st.booleans()), max_size=40))
@example([(0, True), (4, False), (2, False)])
@example([(0, False), (4, True), (2, False), (20, True)])
def test_settings_are_the_entries_within_a_minute_of_each_other(drawn: list[tuple[int, bool]]) -> None:
    """However a clock was set to and fro: who belongs together, for how long, and which a person named."""
    entries = [
        Noted(n, START + timedelta(seconds=n + 25 * step), "a", 1_000 * n)
        for n, (step, _) in enumerate(drawn, 1)
    ]
    stretch = Stretch("a")
    for noted, (_, is_told) in zip(entries, drawn, strict=True):
        stand = stand_of(stretch, noted)
        if is_told:
            stretch.tell(stand)
        stretch.last = noted
    named = max((noted.seq for noted, (_, is_told) in zip(entries, drawn, strict=True) if is_told), default=0)
    expected = sorted((sorted(one.seq for one in group.entries), group.held_ms) for group in alike(entries))
    found = [
        ([seq for first, last in one.spans for seq in range(first, last + 1)], one.held_ms)
        for one in stretch.stands
    ]
    assert found == expected
    assert [one.told for one in stretch.stands] == [named in seqs for seqs, _ in expected]
    assert [one.count for one in stretch.stands] == [len(seqs) for seqs, _ in expected]
    assert [one.is_first for one in stretch.stands] == [1 in seqs for seqs, _ in expected]
