"""One view of one moment as text: gathered from the ledger, built and laid out."""

from collections.abc import Callable, Mapping
from datetime import date, datetime, timedelta

from board.house.model import House
from board.house.wording import short_day
from board.ledger.open import Ledger
from board.sheets.page import WIDTH
from board.sheets.views import Paper, render
from board.views import names
from board.views.batches import printed
from board.views.facts import Facts
from board.views.gather import gather
from board.views.opening import opening
from board.views.progress import Revised
from board.views.record import record
from board.views.remedying import Advised, advised
from board.views.revising import revised
from board.views.service import service
from board.views.text import inert
from board.views.tomorrow import tomorrow

Adviser = Callable[[Facts, Revised], Advised]
Builder = Callable[[Ledger, Facts, date, Revised, Adviser], object]

BUILDERS: Mapping[str, Builder] = {
    "opening": lambda _ledger, facts, _day, known, adviser: opening(facts, known, adviser(facts, known)),
    "tomorrow": lambda _ledger, facts, day, known, _adviser: tomorrow(facts, day, revised=known),
    "service": lambda _ledger, facts, _day, known, adviser: service(facts, known, adviser(facts, known)),
    "batches": lambda _ledger, facts, _day, _known, _adviser: printed(facts),
    "record": lambda ledger, facts, _day, known, _adviser: record(ledger, facts, revised=known),
}


def sheet(
    ledger: Ledger,
    house: House,
    view: str,
    now: datetime,
    *,
    day: date | None = None,
    width: int = WIDTH,
    reviser: Callable[[Facts], Revised] = revised,
    adviser: Adviser = advised,
) -> str:
    """A view by its name as plain text; `day` is the one Tomorrow shows, by default the next.

    `reviser` narrows pull times by readings, `adviser` works out what helps the loads in trouble.

    Raises:
        KeyError: for a name not in `BUILDERS`.
    """
    facts = gather(ledger, house, now)
    shown = day or facts.today + timedelta(days=1)
    built = BUILDERS[view](ledger, facts, shown, reviser(facts), adviser)
    title = inert(house.name)
    if view in ("service", "batches", "record"):
        title = f"{title}  {short_day(facts.today)}  {names.clock(house, now)}"
    hours_12 = house.display.clock_hours == 12
    return render(built, Paper(width, title, house.zone, hours_12))
