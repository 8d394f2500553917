"""What comes first on a day, or in a house, that has nothing planned yet."""

from dataclasses import replace
from datetime import date, timedelta

from board.app.keymap import Keymap
from board.house.model import Recurrence
from board.ledger.open import create_ledger
from board.views.empty_day import nothing_yet, what_first
from board.views.gather import gather
from tests.app.boards import NOW
from tests.app.house_fixture import DAY, ZONE, house

KEY = Keymap().key


def facts_of(tmp_path, house):
    """The facts of an empty ledger."""
    with create_ledger(tmp_path / "board.db", house.name, ZONE, tmp_path) as ledger:
        return gather(ledger, house, NOW)


def only_on(rule, **promises):
    """The fixture's house with one service on some days."""
    lunch = house().services["lunch"]
    when = Recurrence(date(2026, 1, 1), lunch.when.at, lunch.when.minutes, rule)
    return replace(house(), services={"lunch": replace(lunch, when=when, promises=promises)})


def test_a_new_house_is_told_the_way_to_its_first_plan(tmp_path):
    """Tomorrow's view, the day with a service, its promises, the plan: the fixture's today is a Saturday."""
    daily = facts_of(tmp_path, only_on("FREQ=DAILY"))
    assert nothing_yet(daily, KEY) == "Nothing is planned yet: 2, then p shows promises and g plans."
    weekly = replace(daily, house=only_on("FREQ=WEEKLY;BYDAY=WE"))
    assert "2, ] to Wednesday" in nothing_yet(weekly, KEY)
    assert "services.toml" in nothing_yet(replace(daily, house=replace(daily.house, services={})), KEY)
    assert nothing_yet(replace(daily, plans={DAY: None}), KEY) == ""


def test_an_empty_day_says_what_it_lacks(tmp_path):
    """A service, a promise, or only the plan."""
    sunday = DAY + timedelta(days=1)
    facts = facts_of(tmp_path, only_on("FREQ=WEEKLY;BYDAY=WE"))
    assert (
        what_first(facts, sunday, KEY)
        == "No service is held on this day: the next is on Wednesday, ] goes on."
    )
    facts = replace(facts, house=only_on("FREQ=DAILY", ribs=0))
    assert what_first(facts, sunday, KEY).startswith("No promise yet")
    facts = replace(facts, house=only_on("FREQ=DAILY", ribs=10))
    assert "g plans it" in what_first(facts, sunday, KEY)


def test_a_sentence_names_the_key_that_a_house_has_given(tmp_path):
    """Where planning is on F9, an empty day says F9."""
    sunday = DAY + timedelta(days=1)
    facts = facts_of(tmp_path, only_on("FREQ=DAILY", ribs=10))
    assert "F9 plans it" in what_first(facts, sunday, Keymap.of({"plan": "f9"}).key)
