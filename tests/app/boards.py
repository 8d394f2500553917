"""A board on the fixture's Saturday at 05:42, after a night in the ledger, with its clock stopped."""

from datetime import datetime, timedelta
from pathlib import Path

from board.app.app import BoardApp
from board.app.clock import StoppedClock
from board.app.session import Better, Session, Wanted
from board.app.settings import Settings
from board.house.model import House
from board.ledger import write
from board.ledger.open import Ledger, create_ledger, open_ledger
from board.planning.plan import Plan
from board.sheets.labels import labels_pdf
from board.views.facts import Facts, find_load, load_state
from board.views.load_course import LoadCourse
from board.views.progress import Revised
from board.views.reference import parts
from board.views.table import Column, Row, Table
from board.views.text import Cell, Tone
from tests.app.advice import advised, helped
from tests.app.house_fixture import ZONE, at, house, plan, span, sunday

NOW = at("05:42")
_COLUMNS = (Column(right=True), Column(grow=True))
WHY = (
    Table("Where the time goes", _COLUMNS, (
        Row("time/0", (Cell("3 h 10", Tone.STRONG), Cell("warming, 4° to 60 °C: 62 % of it steams off"))),
        Row("time/1", (Cell("4 h 20", Tone.STRONG), Cell("the stall, 60° to 72 °C: 84 % of it steams off"))),
        Row("time/2", (Cell("4 h 06", Tone.STRONG), Cell("wrapped, 72° to 95 °C: 24 % of it steams off"))),
    ), "a middling piece"),
    Table("What each thing is worth", _COLUMNS, (
        Row("worth/0", (Cell("1 h 49 sooner", Tone.STRONG), Cell("a pit 10° hotter: 128 °C, not 118 °C"))),
        Row("worth/1", (Cell("1 h 41 longer", Tone.STRONG), Cell("left open instead of paper"))),
    )),
)  # fmt: skip


def night_ledger(path: Path) -> Ledger:
    """A ledger with Saturday and Sunday committed, and what Ines and the closers recorded."""
    ledger = create_ledger(path, house().name, ZONE, path.parent)
    record_night(ledger)
    return ledger


def record_night(ledger: Ledger) -> None:
    """Fires lit, three loads on, a pit that fell and came back, readings, notes and a signature."""

    def said(who: str, moment: datetime) -> dict[str, object]:
        return {"who": who, "at": moment, "noted_at": moment}

    with ledger.writing():
        write.commit_plan(ledger, plan(), "as promised", **said("odile", at("15:00", -1)))
        write.commit_plan(ledger, sunday(), "as promised", **said("odile", at("15:10", -1)))
        write.make_batch(ledger, "b-rub", "1218-rub", **said("wren", at("05:50", -1)))
        write.mark_step(ledger, "s-light-north", **said("odile", at("17:55", -1)))
        write.mark_step(ledger, "s-load-brisket", **said("odile", at("19:14", -1)))
        write.light(ledger, "south", 121.0, **said("odile", at("19:00", -1)))
        write.mark_step(ledger, "s-load-shoulder", **said("odile", at("20:08", -1)))
        write.handover(ledger, "North wants wood every hour", **said("odile", at("21:00", -1)))
        for clock, days, celsius in (("23:10", -1, 98.0), ("23:20", -1, 101.0), ("23:32", -1, 116.0)):
            write.take_reading(ledger, celsius, place="north", **said("ines", at(clock, days)))
        for clock, days, core in (
            ("22:00", -1, 38.0),
            ("00:00", 0, 62.0),
            ("02:00", 0, 74.0),
            ("04:00", 0, 83.0),
            ("05:30", 0, 91.0),
        ):
            write.take_reading(ledger, core, load="sat-brisket", **said("ines", at(clock, days)))
        for clock, days, core in (("23:00", -1, 52.0), ("01:30", 0, 74.0), ("05:20", 0, 94.0)):
            write.take_reading(ledger, core, load="sat-shoulder", **said("ines", at(clock, days)))
        write.mark_step(ledger, "s-wrap-brisket", **said("ines", at("02:05")))
        write.light(ledger, "little", 107.0, **said("ines", at("04:30")))
        write.note(ledger, "South ran hot after three", **said("ines", at("04:50")))
        write.mark_step(ledger, "s-load-ham", **said("ines", at("05:24")))
        write.handover(ledger, "Hams went on late, I had no help with the door", **said("ines", at("05:35")))


def no_planner(wanted: Wanted, better: Better) -> Plan:
    """A planner that answers at once with the fixture's plan for the day asked."""
    better(plan(), "looking for a better plan")
    return sunday() if wanted.day == sunday().day else plan()


def revised(facts: Facts) -> Revised:
    """The briskets' pull time as if narrowed by their readings; a stand-in for the ensemble."""
    read = any(readings for (_, load), readings in facts.readings.items() if load == "sat-brisket")
    return {"sat-brisket": span("06:20", "07:05", "08:10")} if read else {}


def looked(facts: Facts, key: str) -> LoadCourse | None:
    """A load's course as if worked out: fast at first, a stall near 68 °C, done at its planned pull."""
    day, id = parts(key)
    load = find_load(facts.plans.get(day), id)
    if load is None or load.cut not in facts.house.cuts:
        return None
    begun = load_state(facts, load, day).on_at or load.load_at
    length, aim = load.pull_at.p50 - load.load_at, facts.house.cuts[load.cut].pull_core_c
    shape = (
        (0.0, 0.0),
        (0.1, 0.15),
        (0.2, 0.35),
        (0.3, 0.52),
        (0.4, 0.62),
        (0.7, 0.75),
        (0.85, 0.87),
        (1.0, 1.0),
    )
    course = tuple((begun + part * length, 4.0 + share * (aim - 4.0)) for part, share in shape)
    stall = (begun + 0.38 * length, begun + 0.72 * length) if aim > 80 else None
    return LoadCourse(course, stall, None, WHY)


def board(
    ledger: Ledger,
    *,
    now: datetime = NOW,
    who: str = "tomas",
    settings: Settings | None = None,
    of: House | None = None,
) -> BoardApp:
    """The application on a ledger, its clock standing still; `of` is another house than the fixture's."""
    return BoardApp(
        Session(
            ledger,
            of or house(),
            StoppedClock(now),
            no_planner,
            revised,
            who,
            looker=looked,
            adviser=advised,
            helper=helped,
            label_printer=labels_pdf,
        ),
        settings,
    )


def second(path: Path) -> Ledger:
    """Another connection to the same ledger."""
    return open_ledger(path)


def later(minutes: float) -> datetime:
    """So many minutes after the board's moment."""
    return NOW + timedelta(minutes=minutes)
