"""Alarms: each trouble once, quiet when answered, back when worse, and none of what is served or lost."""

from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from board.ledger.facts import AlarmFacts
from board.ledger.state import LoadStage, PitState, Reading
from board.views.alarm import Alarm, AlarmKind
from board.views.alarm_answers import folded, listen, loud
from board.views.alarms import alarms
from board.views.facts import Facts
from board.views.text import Tone
from tests.app.house_fixture import DAY, at, plan
from tests.views.facts_fixture import NOW, facts, standing, state

LOADS = [load.id for load in plan().loads]
HAM = f"late/{DAY.isoformat()}/sat-ham"


def on(load: str, since: str = "05:24", days: int = 0, stage: LoadStage = LoadStage.ON) -> object:
    """A load that went on then, and stands at a stage."""
    return state(load, stage, on_at=at(since, days))


def ham(minutes_late: float, **changes: object) -> tuple[Facts, dict[str, object]]:
    """The hams on their pit, likely ready so many minutes after they must be."""
    known = facts(loads=standing(on("sat-ham")), **changes)
    (load,) = (one for one in plan().loads if one.id == "sat-ham")
    rest = load.ready_at.p50 - load.pull_at.p50
    spare = timedelta(minutes=load.spare_minutes_p50)
    due = load.ready_at.p50 + spare
    pull = due - rest + timedelta(minutes=minutes_late)
    five = timedelta(minutes=5)
    pulls = replace(load.pull_at, p10=pull - five, p50=pull, p90=pull + five)
    return known, {"sat-ham": pulls}


def late_level(minutes_late: float, stood: int = 0) -> int:
    """The level at which such hams ring."""
    known, revised = ham(minutes_late)
    found = alarms(known, revised, stood={HAM: stood} if stood else None)  # type: ignore[arg-type]
    return next((one.level for one in found if one.key == HAM), 0)


@pytest.mark.parametrize(
    ("late", "level"), [(-60, 0), (-16, 0), (-4, 1), (4, 1), (5, 2), (29, 2), (30, 3), (90, 3)]
)
def test_a_load_rings_by_how_late_it_is(late: float, level: int) -> None:
    """Maybe late with a quarter of an hour in hand at 1, likely 5 minutes late at 2, half an hour at 3."""
    assert late_level(late) == level


def test_a_load_at_the_edge_does_not_ring_by_turns() -> None:
    """What rang at 5 minutes goes down only once it is 5 minutes better."""
    assert late_level(4, stood=2) == 2
    assert late_level(-1, stood=2) == 1
    assert late_level(26, stood=3) == 3
    assert late_level(24, stood=3) == 2
    assert [late_level(late, stood=1) for late in (-4, -6, -9, -11)] == [1, 1, 1, 0]
    assert late_level(-6) == 0


def test_a_load_held_past_its_longest_rings_again() -> None:
    """Ribs held since ten, good up to four hours: at 1 half an hour before that is over, then at 2."""
    ribs = on("sat-ribs", "04:00", stage=LoadStage.HOLDING)
    held = standing(replace(ribs, pulled_at=at("09:00"), holding_at=at("10:00")))  # type: ignore[type-var]

    def levels(now: str) -> list[int]:
        found = alarms(facts(now=at(now), loads=held))
        return [one.level for one in found if one.kind is AlarmKind.HOLD]

    assert [levels(now) for now in ("13:20", "13:40", "14:10")] == [[], [1], [2]]


def air(celsius: float, clock: str, seq: int = 1) -> Reading:
    """A reading of Little's air."""
    return Reading(seq, at(clock), "ines", "little", celsius)


def fired(*readings: Reading, now: str = "07:00") -> list[Alarm]:
    """The alarms of Little, lit at 03:00 to 107° with the hams on it since four."""
    known = facts(
        now=at(now),
        loads=standing(on("sat-ham", "04:00")),
        pits={"little": PitState("little", at("03:00"), 107.0, None, None)},
        asked={"little": ((at("03:00"), 107.0),)},
        air={"little": readings},
    )
    return [one for one in alarms(known) if one.kind is AlarmKind.PIT]


def test_a_pit_off_its_setpoint_rings_after_a_while_and_says_what_to_do() -> None:
    """Read 30° under what was asked and not right again for a quarter of an hour: one alarm, from then."""
    low = air(77.0, "06:00")
    assert fired(low, now="06:10") == []
    (one,) = fired(low, now="06:24")
    assert one.says.startswith("Little read 77°, 30° under what was asked, for 24 min")
    assert one.todo == "see to the fire, and read it again"
    (later,) = fired(low, air(70.0, "06:30", 2), now="06:40")
    assert later.key == one.key
    assert fired(low, air(107.0, "06:20", 2), now="06:24") == []


def test_a_pit_that_comes_to_its_setpoint_does_not_ring() -> None:
    """A reading taken while the air still comes up, after lighting or over cold meat, does not count."""
    assert fired(air(60.0, "03:10"), air(90.0, "04:01"), now="05:00") == []


def test_a_pit_nobody_looks_at_rings() -> None:
    """Meat on it and nothing read for four hours; a core counts as a look."""
    assert fired(now="07:50") == []
    (one,) = fired(now="08:10")
    assert "nothing read since 04:00" in one.says


def test_more_than_three_of_a_kind_are_one_sentence() -> None:
    """Four readings that are overdue take one line, which says how many and the first."""
    alarm = Alarm("a", 1, AlarmKind.CHECK, "read the hams", "", Tone.CARE, NOW)
    four = [replace(alarm, key=str(n)) for n in range(4)]
    (line,) = folded(four)
    assert line.count == 4
    assert line.says == "4 readings and checks overdue, first read the hams"
    assert len(folded(four[:3])) == 3


def test_an_alarm_is_heard_once_again_when_worse_and_when_its_time_is_over() -> None:
    """What was heard is silent; a higher level rings, and what was put off rings when it comes back."""
    alarm = Alarm("a", 1, AlarmKind.LATE, "late", "", Tone.CARE, NOW)
    known = facts()
    heard, rings = listen(known, [alarm], frozenset())
    assert rings
    assert not listen(known, [alarm], heard)[1]
    assert listen(known, [replace(alarm, level=2)], heard)[1]
    until = NOW + timedelta(minutes=15)
    off = replace(known, answers={"a": AlarmFacts("a", 1, "ines", NOW, 1, until)})
    quiet, rings = listen(off, [alarm], heard)
    assert not rings
    assert listen(replace(off, now=until), [alarm], quiet)[1]


stages = st.dictionaries(st.sampled_from(LOADS), st.sampled_from(LoadStage), max_size=len(LOADS))
moments = st.integers(-6 * 60, 20 * 60).map(lambda minutes: NOW + timedelta(minutes=minutes))
airs = st.lists(st.tuples(st.integers(0, 400), st.floats(20, 200)), max_size=6)


def some_facts(chosen: dict[str, LoadStage], now: object, read: list[tuple[int, float]]) -> Facts:
    """A day on which the loads stand anywhere and the pits were read anyhow."""
    went_on = at("20:00", -1)
    marked = [
        state(
            id,
            stage,
            on_at=went_on if stage not in (LoadStage.PLANNED, LoadStage.PREPPED) else None,
            pulled_at=at("05:00") if list(LoadStage).index(stage) >= 4 else None,
            since=at("05:00"),
        )
        for id, stage in chosen.items()
    ]
    readings = tuple(
        Reading(n, went_on + timedelta(minutes=minute), "ines", "north", c)
        for n, (minute, c) in enumerate(sorted(read))
    )
    return facts(now=now, loads=standing(*marked), air={"north": readings})  # type: ignore[arg-type]


@settings(max_examples=60, deadline=None)
@given(stages, moments, airs)
def test_alarms_follow_from_the_facts_alone(
    chosen: dict[str, LoadStage], now: object, read: list[tuple[int, float]]
) -> None:
    """The same facts give the same alarms, no key comes twice, and none is of a load served or lost."""
    known = some_facts(chosen, now, read)
    found = alarms(known)
    assert found == alarms(known)
    assert len({one.key for one in found}) == len(found)
    gone = {id for id, stage in chosen.items() if stage in (LoadStage.SERVED, LoadStage.LOST)}
    assert not [
        one for one in found if one.load.partition("/")[2] in gone and one.kind is not AlarmKind.BATCH
    ]


@settings(max_examples=60, deadline=None)
@given(stages, moments, airs, st.data())
def test_an_answer_quiets_until_it_is_worse(
    chosen: dict[str, LoadStage], now: object, read: list[tuple[int, float]], data: st.DataObject
) -> None:
    """Answered at its level an alarm is quiet; answered at a lower one, or put off till now, it is loud."""
    known = some_facts(chosen, now, read)
    found = alarms(known)
    if not found:
        return
    one = data.draw(st.sampled_from(found))
    answer = AlarmFacts(one.key, one.level, "ines", known.now, 1)

    def is_loud(said: AlarmFacts) -> bool:
        return one in loud(replace(known, answers={one.key: said}), found)

    assert not is_loud(answer)
    assert is_loud(replace(answer, level=one.level - 1))
    assert is_loud(replace(answer, until=known.now))
    assert not is_loud(replace(answer, until=known.now + timedelta(minutes=1)))
