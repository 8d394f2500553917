"""A new house: whatever is answered, its files read back, and a day of it can be planned."""

import string
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from board.errors import HouseFileError
from board.house import founding as new
from board.house.calendar import services_on
from board.house.files import read_house
from board.house.founding import Dish, NewHouse, NewPit, Times
from board.house.founding_files import house_files, ids
from board.house.model import JURISDICTIONS, Display, PitKind
from board.house.starter import write_house
from board.house.zones import zones
from board.planning.doubts import every_doubt
from board.planning.planner import plan_day

MONDAY = date(2026, 11, 30)


def _is_name(text: str) -> bool:
    try:
        new.a_name(text)
    except HouseFileError:
        return False
    return True


NAMES = st.text(min_size=1, max_size=70).filter(_is_name)


@st.composite
def displays(draw):
    """Any units and clock."""
    return Display(
        draw(st.sampled_from(("kg", "lb"))),
        draw(st.sampled_from(("degC", "degF"))),
        draw(st.sampled_from(("L", "gal"))),
        draw(st.sampled_from((12, 24))),
    )


@st.composite
def times(draw, name, people=()):
    """A service or a shift as the pages let it be."""
    at = f"{draw(st.integers(0, 23)):02d}:{draw(st.integers(0, 59)):02d}"
    lasts = new.a_length_of_time(f"{draw(st.integers(1, 24 * 60))} min")
    days = draw(st.lists(st.sampled_from(new.DAYS), min_size=1, unique=True))
    who = draw(st.lists(st.sampled_from(people), unique=True)) if people else []
    return Times(name, at, lasts, tuple(sorted(days, key=new.DAYS.index)), tuple(who))


def names(least, most):
    """Names of which no two are the same."""
    different = st.lists(
        NAMES, min_size=least, max_size=most, unique_by=lambda name: new.a_name(name).casefold()
    )
    return different.map(lambda listed: [new.a_name(name) for name in listed])


@st.composite
def houses(draw, most_cuts=20):
    """A house as the pages let it be."""
    house = NewHouse(new.a_name(draw(NAMES)), draw(st.sampled_from(sorted(zones()))), draw(displays()))
    house = replace(house, jurisdiction=draw(st.sampled_from(JURISDICTIONS)))
    kinds = st.sampled_from(list(PitKind))
    size = st.floats(0.01, 200).map(lambda m2: new.an_area(house, f"{m2:.2f} m2"))
    pits = tuple(NewPit(name, draw(kinds), draw(size)) for name in draw(names(1, 4)))
    cuts = draw(st.lists(st.sampled_from(new.cuts_offered()), min_size=1, max_size=most_cuts, unique=True))
    called = draw(names(len(cuts), len(cuts)))
    dishes = tuple(
        replace(new.usual_dish(house, cut), name=name) for cut, name in zip(cuts, called, strict=True)
    )
    crew = draw(names(0, 3))
    return replace(
        house,
        pits=pits,
        dishes=dishes,
        services=tuple(draw(times(name)) for name in draw(names(1, 3))),
        shifts=tuple(draw(times(name, crew)) for name in draw(names(0, 3))),
    )


def written(house: NewHouse):
    """The house read back from its files."""
    with TemporaryDirectory() as place:
        write_house(Path(place) / "house", house_files(house))
        return read_house(Path(place) / "house")


@settings(max_examples=60, deadline=None)
@given(houses())
def test_whatever_is_answered_is_read_back(answered):
    """Each file reads, and says what was answered: names, units, zone, days, who works."""
    house = written(answered)
    assert (house.name, house.zone, house.jurisdiction) == (
        answered.name,
        answered.zone,
        answered.jurisdiction,
    )
    assert house.display == answered.display
    assert [pit.name for pit in house.pits.values()] == [pit.name for pit in answered.pits]
    assert [(i.name, i.cut) for i in house.items.values()] == [(d.name, d.cut) for d in answered.dishes]
    assert [person.name for person in house.people.values()] == list(answered.people)
    for shift, told in zip(house.shifts, answered.shifts, strict=True):
        assert [house.people[id].name for id in shift.people] == list(told.people)
    for ahead in range(7):
        day = MONDAY + timedelta(days=ahead)
        held = {service.name for service in services_on(house, day)}
        assert held == {each.name for each in answered.services if new.DAYS[ahead] in each.days}


@settings(max_examples=6, deadline=None)
@given(houses(most_cuts=3), st.data())
def test_a_day_of_any_new_house_can_be_checked_and_planned(answered, data):
    """The check asks, the planner plans, and neither stumbles over what was answered."""
    house = written(answered)
    every_doubt(house, MONDAY)
    ahead = new.DAYS.index(answered.services[0].days[0])
    day = MONDAY + timedelta(days=7 + ahead)
    promises = {
        (service.id, item): data.draw(st.integers(0, 30))
        for service in services_on(house, day)
        for item in house.items
    }
    plan = plan_day(house, day, promises=promises, now=datetime(2026, 11, 30, tzinfo=UTC), seconds=0)
    assert plan.day == day
    assert {(o.id, item) for o in plan.occasions for item in house.items} == set(promises)


@pytest.mark.parametrize("country", ["US", "CA", "GB", "IE", "NZ", "LR"])
def test_a_house_begun_in_any_country_is_read(country):
    """What is offered to start from is a house, in whatever units the country has."""
    house = written(replace(new.begun("Europe/Dublin", country), name="New"))
    assert (len(house.pits), len(house.items), len(house.shifts)) == (2, 2, 2)


def test_what_is_guessed_follows_the_country():
    """Pounds in the United States, the European Union's rules in Ireland, the United Kingdom's in Jersey."""
    assert new.begun("", "US").display == Display("lb", "degF", "gal", 12)
    assert new.begun("", "IE").display == Display("kg", "degC", "L", 24)
    assert [new.begun("", code).jurisdiction for code in ("US", "IE", "JE", "NZ")] == ["us", "eu", "uk", "us"]


def test_other_units_change_only_what_nobody_changed():
    """A size that was typed stays as typed; one that was offered is offered in the new units."""
    house = new.begun("", "US")
    house = replace(house, pits=(replace(house.pits[0], area="24 x 36 in"), house.pits[1]))
    metric = new.measured(house, Display())
    assert [pit.area for pit in metric.pits] == ["24 x 36 in", "1.8 m2"]
    assert metric.dishes[0].portion == "170 g"


@pytest.mark.parametrize(
    ("typed", "days"),
    [
        ("fri sat sun", ("fri", "sat", "sun")),
        ("Tue–Sun", ("tue", "wed", "thu", "fri", "sat", "sun")),
        ("sat - mon", ("mon", "sat", "sun")),
        ("thursday, mo", ("mon", "thu")),
        ("every day", new.DAYS),
    ],
)
def test_days_are_told_as_people_say_them(typed, days):
    """Words, their beginnings, and runs over the end of the week."""
    assert new.some_days(typed) == days
    assert new.some_days(new.days_said(days)) == days


@pytest.mark.parametrize(
    ("typed", "at"), [("11:00", "11:00"), ("5 pm", "17:00"), ("12am", "00:00"), ("9.30", "09:30")]
)
def test_a_time_of_day_is_told_by_either_clock(typed, at):
    """Twelve hours with am and pm, or twenty-four."""
    assert new.a_time_of_day(typed) == at


US, IE = new.begun("America/Denver", "US"), new.begun("Europe/Dublin", "IE")


@pytest.mark.parametrize(
    ("read", "typed", "such_as"),
    [
        (lambda t: new.an_area(US, t), "20", "20 sq ft"),
        (lambda t: new.an_area(IE, t), "20", "1.8 m2"),
        (lambda t: new.an_area(US, t), "12 lb", "24 x 36 in"),
        (lambda t: new.an_area(US, t), "0 m2", "20 sq ft"),
        (lambda t: new.a_piece(US, t), "14", "14 lb"),
        (lambda t: new.a_piece(IE, t), "900 kg", "60 kg"),
        (lambda t: new.a_portion(US, Dish("brisket", "b", "6 oz"), t), "20 lb", "gives"),
        (new.a_time_of_day, "25:00", "11:00"),
        (new.a_time_of_day, "13 pm", "5 pm"),
        (new.a_length_of_time, "0", "3 h"),
        (new.a_length_of_time, "30 h", "3 h"),
        (new.some_days, "t", "tue-sun"),
        (new.some_days, "", "every day"),
        (new.a_name, "  ", "Big pit"),
        (new.a_name, "a\x1b[31m", "Big pit"),
        (new.a_name, "x" * 61, "60 letters"),
    ],
)
def test_what_is_wrong_is_refused_with_what_is_right(read, typed, such_as):
    """One line, with an example in the house's own units."""
    with pytest.raises(HouseFileError, match=such_as) as refused:
        read(typed)
    assert "\n" not in str(refused.value)


@given(st.lists(st.text(alphabet=string.printable + "Øß炉", max_size=50), unique=True, max_size=8))
def test_ids_are_ids_and_each_ones_own(called):
    """Any names get ids a house file allows, no two the same."""
    found = list(ids(called, "pit").values())
    assert len(set(found)) == len(called)
    assert all(
        id and len(id) <= 40 and set(id) <= set(string.ascii_lowercase + string.digits + "-") for id in found
    )


def test_nothing_is_overwritten_and_nothing_half_written(tmp_path):
    """A folder that has one of the files is refused whole."""
    (tmp_path / "cuts.toml").write_text("# mine\n")
    with pytest.raises(HouseFileError, match=r"cuts\.toml already"):
        write_house(tmp_path, house_files(replace(US, name="New")))
    assert [path.name for path in tmp_path.iterdir()] == ["cuts.toml"]
