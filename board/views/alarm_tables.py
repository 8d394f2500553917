"""The alarms as tables: the list to answer them from, and the lines at the top of Opening."""

from collections.abc import Iterator, Sequence

from board.house.wording import count
from board.views.alarm import Alarm, AlarmKind
from board.views.alarm_answers import (
    ALL,
    Folded,
    answer_to,
    is_folded,
    loud,
    said_back,
    several,
    sign,
)
from board.views.days import when
from board.views.facts import Facts
from board.views.guidance import Key
from board.views.table import Column, Row, Table
from board.views.text import Cell, Tone


def alarms_table(facts: Facts, found: Sequence[Alarm], warned: Sequence[str], due: int) -> Table:
    """The loud ones first, then those answered or put off, then what the plans themselves warn of.

    `due` counts what is to be done by now, so that an empty list does not say that nothing is.
    """
    wanted = loud(facts, found)
    quiet = [one for one in found if one not in wanted]
    rows = [
        *_loud_rows(facts, wanted),
        *(_quiet_row(facts, one) for one in quiet),
        *(
            Row(f"plan/{n}", (Cell("·"), Cell("plan", Tone.QUIET), Cell(says)))
            for n, says in enumerate(warned)
        ),
    ]
    aside = f"{len(quiet)} answered or put off" if quiet else ""
    columns = (Column(), Column(right=True, note="alarm-since"), Column(grow=True, note="alarm"))
    return Table("Alarms", columns, tuple(rows), aside, _none(due))


def _none(due: int) -> str:
    if not due:
        return "Nothing wants anybody now."
    are = "is" if due == 1 else "are"
    return f"No alarm; {count(due, 'thing')} {are} due: see Do next in Opening."


def _loud_rows(facts: Facts, wanted: Sequence[Alarm]) -> Iterator[Row]:
    """Each alarm; over many of one kind a line about them all, so that one answer does."""
    told: set[AlarmKind] = set()
    for one in wanted:
        if one.kind not in told and is_folded(wanted, one.kind):
            number = sum(1 for other in wanted if other.kind is one.kind)
            says = f"all of {several(one.kind, number)}, below one by one"
            yield Row(f"{ALL}{one.kind}", (Cell(sign(one.tone), one.tone), Cell(""), Cell(says, Tone.STRONG)))
        told.add(one.kind)
        since = Cell(when(facts, one.since), Tone.QUIET)
        yield Row(one.key, (Cell(sign(one.tone), one.tone), since, Cell(one.whole, one.tone)))


def _quiet_row(facts: Facts, one: Alarm) -> Row:
    answer = answer_to(facts, one)
    below = (Cell(said_back(facts, answer), Tone.QUIET),) if answer else ()
    since = Cell(when(facts, one.since), Tone.QUIET)
    return Row(one.key, (Cell("·", Tone.QUIET), since, Cell(one.whole, Tone.QUIET)), below)


def warnings_table(
    lines: Sequence[Folded], warned: Sequence[str], key: Key, most: int, *, whole: bool
) -> Table:
    """At most so many lines, the alarms first; the last one says how many more there are and where.

    `whole` lets sentences run over several lines.
    """
    told = [(line.cell, line.count) for line in lines]
    told += [(Cell(f"· {says}", Tone.CARE), 1) for says in warned]
    hidden = sum(count for _, count in told[most:])
    rows = [Row(str(n), (cell, Cell(""))) for n, (cell, _) in enumerate(told[:most])]
    if rows:
        lists, answers = f"{hidden} more, {key('alarms')} lists them", f"{key('alarms')} answers"
        hint = lists if hidden else answers if lines else ""
        rows[-1] = Row(rows[-1].key, (rows[-1].cells[0], Cell(hint, Tone.QUIET)))
    return Table("", (Column(grow=whole, note="warning"), Column(note="warning")), tuple(rows))
