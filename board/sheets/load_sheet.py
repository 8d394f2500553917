"""One load's page as plain text: its chart, what is known of it, and why it takes so long."""

from collections.abc import Callable
from datetime import datetime

from board.errors import LedgerError
from board.house.calendar import zone
from board.house.model import House
from board.house.read_probes import silence_of
from board.house.wording import short_day
from board.ledger.fed import struck_readings
from board.ledger.open import Ledger
from board.sheets.page import WIDTH, block, heading, page
from board.views import names
from board.views.chart_drawing import draw
from board.views.chart_words import Words
from board.views.facts import Facts, all_loads
from board.views.gather import gather
from board.views.load_course import course_of
from board.views.load_page import LoadPage, load_page
from board.views.load_page_tables import known_table, record_table, steps_table, verdict_table
from board.views.progress import Revised
from board.views.reference import parts, ref
from board.views.revising import revised
from board.views.text import inert

CHART_ROWS = 18


def load_sheet(
    ledger: Ledger,
    house: House,
    load: str,
    now: datetime,
    *,
    width: int = WIDTH,
    reviser: Callable[[Facts], Revised] = revised,
) -> str:
    """A load's page by the load's id.

    Raises:
        LedgerError: no load of the near days has that id, or none was named; says which there are.
    """
    facts = gather(ledger, house, now)
    key = _key(facts, load)
    day, id = parts(key)
    struck = struck_readings(ledger, id, day, silence_of(house))
    found = load_page(facts, key, reviser(facts), course_of(facts, key), struck=struck)
    assert found is not None
    title = f"{inert(house.name)}  {short_day(facts.today)}  {names.clock(house, now)}"
    return page(
        heading(title, "", width),
        block(verdict_table(found), width),
        _drawn(found, house, width),
        block(known_table(found), width),
        block(steps_table(found), width),
        block(record_table(found), width),
        *(block(table, width) for table in found.why),
    )


def _key(facts: Facts, load: str) -> str:
    """The key of a load by its id, today's before another day's."""
    loads = sorted(all_loads(facts), key=lambda pair: abs((pair[0].day - facts.today).days))
    for plan, known in loads:
        if known.id == load:
            return ref(plan.day, known.id)
    near = ", ".join(dict.fromkeys(known.id for _, known in loads))
    instead = f"there are {near}" if near else "no plan of these days has been committed"
    wrong = f"there is no load {load}" if load else "say which load (--load)"
    raise LedgerError(f"{wrong}; {instead}")


def _drawn(found: LoadPage, house: House, width: int) -> list[str]:
    """The chart as lines; none for a cut the house does not know."""
    if found.chart is None:
        return []
    words = Words(zone(house), house.display)
    return [line.text.rstrip() for line in draw(found.chart, width, CHART_ROWS, words)]
