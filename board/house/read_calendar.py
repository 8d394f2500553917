"""Reading times that repeat: crew.toml and services.toml."""

from collections.abc import Mapping
from datetime import date

from board.errors import HouseFileError
from board.house.calendar import check_rule
from board.house.model import Person, Recurrence, Service, Shift
from board.house.tables import Table

# a rule without a first date is counted from here: a Monday, so that INTERVAL=2 means the weeks it began
FIRST_DAY = date(2024, 1, 1)
LONGEST_MINUTES = 31 * 1440.0
RULE_ALLOWED = "an RFC 5545 rule of days such as FREQ=WEEKLY;BYDAY=TU,WE,TH"


def read_recurrence(row: Table) -> Recurrence:
    """A repeating (`rule`) or single (`on`) occasion; does not refuse the table's other keys."""
    minutes = row.minutes_above_nought("lasts")
    if minutes > LONGEST_MINUTES:
        raise row.refuse("lasts", "at most 31 days")
    at = row.time_of_day("at")
    if row.has("on"):
        if row.has("rule"):
            raise row.refuse("rule", "either 'on' for a single date or 'rule' for a repeating one")
        return Recurrence(row.day("on"), at, minutes)
    rule = row.text("rule")
    try:
        check_rule(rule)
    except (ValueError, KeyError, TypeError, AttributeError):
        raise row.refuse("rule", RULE_ALLOWED) from None
    return Recurrence(row.day("first", FIRST_DAY), at, minutes, rule, row.days("not_on"))


def read_crew(file: Table) -> tuple[dict[str, Person], tuple[Shift, ...]]:
    """The people and shifts of crew.toml; raises HouseFileError for a shift of someone unknown."""
    people_rows, shift_rows = file.table("people"), file.table("shifts")
    file.done()
    people = {row.id: _person(row) for row in people_rows.named()} if people_rows else {}
    shifts = tuple(_shift(row, people) for row in shift_rows.named()) if shift_rows else ()
    return people, shifts


def read_services(file: Table, items: Mapping[str, object]) -> dict[str, Service]:
    """The services of services.toml by id; raises HouseFileError for a promise of an unknown item."""
    services = {row.id: _service(row, items) for row in file.named()}
    file.done()
    return services


def _person(row: Table) -> Person:
    person = Person(row.id, row.text("name", row.id.capitalize()), frozenset(row.texts("can")))
    row.done()
    return person


def _shift(row: Table, people: Mapping[str, Person]) -> Shift:
    shift = Shift(
        row.id, row.text("name", row.id.replace("-", " ")), row.texts("people"), read_recurrence(row)
    )
    row.done()
    for person in shift.people:
        if person not in people:
            known = ", ".join(people) or "nobody: add [people.name]"
            raise HouseFileError(f"{row.file}, shifts.{row.id}.people: found '{person}', allowed {known}")
    return shift


def _service(row: Table, items: Mapping[str, object]) -> Service:
    chance = row.fraction("chance") if row.has("chance") else None
    if chance is not None and not 0 < chance < 1:
        raise row.refuse("chance", "a chance above 0 % and below 100 %")
    name = row.text("name", row.id.replace("-", " "))
    service = Service(row.id, name, read_recurrence(row), _promises(row, items), chance)
    row.done()
    return service


def _promises(row: Table, items: Mapping[str, object]) -> dict[str, int]:
    promised = row.table("promises")
    if promised is None:
        return {}
    for item in promised.keys:
        if item not in items:
            known = ", ".join(items)
            raise HouseFileError(
                f"{row.file}, {row.id}.promises: found '{item}', allowed an item of: {known}"
            )
    return {item: promised.whole(item) for item in promised.keys}
