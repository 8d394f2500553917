"""Every cure that is told does what it says: with it, the day planned again lacks so much less."""

import re

import pytest

from board.planning.planner import plan_day
from board.planning.shortfall import shortfalls as module
from tests.planning.by_hand import FILES, written
from tests.planning.conftest import DAY
from tests.planning.generator import DAY as DRAWN_DAY
from tests.planning.generator import random_house
from tests.planning.traps import exact

CABINET, OFFSET = 'kind = "cabinet"', 'kind = "offset"'
BIRDS_ONLY = '\ntakes = ["chicken-half"]'
SHORT_DAYS = {
    "little room": (
        {"pits": FILES["pits.toml"].replace('"1.6 m2"', '"0.35 m2"').replace('"0.9 m2"', '"0.35 m2"')},
        {("lunch", "sliced"): 150},
        "more on",
    ),
    "a cut no pit takes": (
        {
            "pits": FILES["pits.toml"]
            .replace(CABINET, CABINET + BIRDS_ONLY)
            .replace(OFFSET, OFFSET + BIRDS_ONLY)
        },
        {},
        " take brisket too",
    ),
    "nobody at night": (
        {
            "crew": '[people.abe]\n[shifts.day]\npeople = ["abe"]\nat = "09:00"\n'
            'lasts = "9 h"\nrule = "FREQ=DAILY"\n'
        },
        {},
        "with one more person",
    ),
}


def planned_short(monkeypatch, house, day, promises):
    """A plan, and the cures that were proved for it."""
    caught, original = [], module.proved

    def catching(cures, attempt, before):
        found = original(cures, attempt, before)
        caught.extend(module.with_fires(house, one).cure for one in found)
        return found

    with monkeypatch.context() as patched:
        patched.setattr(module, "proved", catching)
        plan = plan_day(house, day, seconds=0.3, promises=promises)
    return plan, caught


def lacking(plan):
    """Portions short by service and item."""
    found = {}
    for short in plan.short:
        found[short.service, short.item] = found.get((short.service, short.item), 0) + short.portions
    return found


def covered(words, missing):
    """The portions a cure says it covers: all that are missing, where it names none."""
    said = re.search(r", for (\d+) of the (\d+)$", words)
    assert said is None or int(said[2]) == missing
    return int(said[1]) if said else missing


def check_cures(plan, caught, day, promises):
    """With all of the search each proved cure that is told brings what it says or more, harming nobody."""
    before, told = lacking(plan), []
    for short in plan.short:
        assert len(set(short.cure)) == len(short.cure)
        for words in short.cure:
            cure = next((c for c in caught if re.sub(r", for \d+ of the \d+$", "", words) == c.words), None)
            if cure is None:
                continue
            asked = {**promises, **cure.promises}
            after = lacking(plan_day(cure.house, day, seconds=0.3, promises=asked, committed=plan))
            key = short.service, short.item
            assert before[key] - after.get(key, 0) >= covered(words, before[key]), words
            assert all(n <= before.get(k, 0) for k, n in after.items()), words
            told.append(words)
    return told


@pytest.mark.parametrize("name", SHORT_DAYS)
def test_a_cure_brings_what_it_says(tmp_path, monkeypatch, name):
    """On days short for one plain reason, the cure of that reason is told, and holds."""
    files, promises, words = SHORT_DAYS[name]
    house = written(tmp_path, **files)
    plan, caught = planned_short(monkeypatch, house, DAY, promises)
    told = check_cures(plan, caught, DAY, promises)
    assert any(words in cure for cure in told), [short.cure for short in plan.short]


def test_a_hold_set_warm_enough_brings_what_waits_in_it(tmp_path, monkeypatch):
    """Four halves must wait from 08:40 to 11:00; a hold of 50 °C keeps none of them, at 57 °C all.

    FDA Food Code 2022, 3-501.16(A)(1): 57 °C or above.
    """
    exact.exactly(monkeypatch, chicken_half=360)
    house = exact.house(
        tmp_path,
        pits=exact.pit("box", 1),
        cuts=exact.cut("chicken-half", "0.1", rest=30, hold=240),
        items=exact.item("bird", "chicken-half"),
        services=exact.service("lunch", "11:00", bird=4),
        holds='[bench]\narea = "1 m2"\n[cold]\narea = "2 m2"\nsetpoint = "50 C"\n',
        crew=exact.crew(("late", ("nan", "abe"), "18:10", 8), ("day", ("dot", "eli"), "08:00", 8)),
    )
    plan, caught = planned_short(monkeypatch, house, DAY, {})
    assert lacking(plan) == {("lunch", "bird"): 4}
    told = check_cures(plan, caught, DAY, {})
    assert any(words.startswith("Cold set to") and "for" not in words for words in told), told


def test_what_lunch_has_no_room_for_is_moved_to_dinner(tmp_path, monkeypatch):
    """Ten halves fit the pit for 11:00 and none can wait: of 14 four are left, for dinner with its five."""
    exact.exactly(monkeypatch, chicken_half=120)
    house = exact.house(
        tmp_path,
        pits=exact.pit("box", 1),
        cuts=exact.cut("chicken-half", "0.1"),
        items=exact.item("bird", "chicken-half"),
        services=exact.service("lunch", "11:00", bird=14) + exact.service("dinner", "17:00", bird=5),
    )
    plan, caught = planned_short(monkeypatch, house, DAY, {})
    assert lacking(plan) == {("lunch", "bird"): 4}
    told = check_cures(plan, caught, DAY, {})
    assert "move 4 chicken halves to dinner at 17:00" in told


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_cures_of_drawn_houses_bring_what_they_say(monkeypatch, seed):
    """In houses drawn far too tight each has cures, and whoever follows one gets what it says."""
    house = random_house("tiny", seed, 4.0)
    plan, caught = planned_short(monkeypatch, house, DRAWN_DAY, {})
    assert check_cures(plan, caught, DRAWN_DAY, {})
