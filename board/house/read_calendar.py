"""Reading times that repeat: crew.toml and services.toml."""

from collections.abc import Mapping
from datetime import date, datetime, time, timedelta
from itertools import pairwise

from board.errors import HouseFileError
from board.house.calendar import check_rule
from board.house.model import Break, Person, Recurrence, Service, Shift
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
    when = read_recurrence(row)
    name = row.text("name", row.id.replace("-", " "))
    shift = Shift(row.id, name, row.texts("people"), when, _breaks(row, when.minutes))
    row.done()
    for person in shift.people:
        if person not in people:
            known = ", ".join(people) or "nobody: add [people.name]"
            raise HouseFileError(f"{row.file}, shifts.{row.id}.people: found '{person}', allowed {known}")
    return shift


def _breaks(row: Table, shift_minutes: float) -> tuple[Break, ...]:
    """The breaks of a shift in order, each begun after the one before it and ended within the shift."""
    breaks: list[Break] = []
    for given in row.tables("breaks"):
        pause = Break(given.minutes("after"), given.minutes_above_nought("lasts"))
        given.done()
        if breaks and pause.after_minutes < breaks[-1].after_minutes + breaks[-1].minutes:
            raise given.refuse("after", "a time after the break before it has ended")
        if pause.after_minutes + pause.minutes > shift_minutes:
            raise given.refuse("after", f"a break that ends within the shift of {shift_minutes:g} min")
        breaks.append(pause)
    return tuple(breaks)


def _service(row: Table, items: Mapping[str, object]) -> Service:
    chance = row.fraction("chance") if row.has("chance") else None
    if chance is not None and not 0 < chance < 1:
        raise row.refuse("chance", "a chance above 0 % and below 100 %")
    name = row.text("name", row.id.replace("-", " "))
    when, promises = read_recurrence(row), _promises(row, items)
    service = Service(row.id, name, when, promises, chance, _fresh(row, when, promises))
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


def _fresh(row: Table, when: Recurrence, promises: Mapping[str, int]) -> dict[str, tuple[time, ...]]:
    """The times of day at which an item of a service comes fresh, in order from its opening."""
    given = row.table("fresh")
    if given is None:
        return {}
    for item in given.keys:
        if item not in promises:
            raise HouseFileError(
                f"{row.file}, {row.id}.fresh: found '{item}', allowed an item promised here: "
                f"{', '.join(promises) or 'none is'}"
            )
    return {item: _waves(given, item, when) for item in given.keys}


def _waves(given: Table, item: str, when: Recurrence) -> tuple[time, ...]:
    times = given.times_of_day(item)
    after = [_minutes_after(when.at, at) for at in times]
    if not times or after[-1] >= when.minutes or any(b <= a for a, b in pairwise(after)):
        raise given.refuse(item, 'times of day such as ["11:00", "12:00"], in order, within the service')
    return times


def _minutes_after(opening: time, at: time) -> float:
    """Minutes on the wall clock from an opening to a later time of day, past midnight if need be."""
    apart = datetime.combine(FIRST_DAY, at) - datetime.combine(FIRST_DAY, opening)
    return (apart % timedelta(days=1)) / timedelta(minutes=1)
