"""The five views as pages of plain text, for a printer, a script, or a terminal that is none."""

from dataclasses import dataclass
from functools import singledispatch
from zoneinfo import ZoneInfo

from board.sheets.page import WIDTH, block, heading, page, sentences, side_by_side
from board.views import batches_tables, opening_tables, record_tables, service_tables, tomorrow_tables
from board.views.batches import Batches
from board.views.opening import Opening
from board.views.promises import promises_table
from board.views.record import Record
from board.views.service import Service
from board.views.timeline_drawing import draw
from board.views.timeline_window import SIDE, Window, whole
from board.views.tomorrow import Tomorrow

_LEAST_TIMELINE = SIDE + 24
CAUTIONS = 3


@dataclass(frozen=True, slots=True)
class Paper:
    """What a page needs beside its view: its width, the house's title, its zone and its clock."""

    width: int = WIDTH
    title: str = ""
    zone: str = "UTC"
    hours_12: bool = False


@singledispatch
def render(view: object, _: Paper) -> str:
    """A view as plain text, no wider than its paper.

    Raises:
        TypeError: for what is no view.
    """
    raise TypeError(f"{type(view).__name__} is no view")


@render.register
def _opening(view: Opening, paper: Paper) -> str:
    width = paper.width
    right = f"{view.countdown}   {view.lit}"
    top = heading(f"{paper.title}  {view.day}  {view.clock}".strip(), right, width)
    story = block(opening_tables.since_table(view), width)
    work = block(opening_tables.next_table(view), width)
    pits = block(opening_tables.pits_table(view), width)
    left_width = max(width // 2, width - 40)
    below = side_by_side(
        opening_tables.batches_table(view), opening_tables.cover_table(view), width, left_width
    )
    told = [*(line.says for line in view.alarms), *view.warnings]
    warned = sentences([f"! {says}" for says in told], width)
    return page(top, warned, story, work, pits, below, sentences(view.cautions[:CAUTIONS], width))


@render.register
def _tomorrow(view: Tomorrow, paper: Paper) -> str:
    width = paper.width
    facts = "   ".join(text for text in (view.nearness, view.surety) if text)
    top = heading(f"{paper.title}  {view.day_name}  {view.standing}".strip(), facts, width)
    window: Window = whole(view.timeline, max(width, _LEAST_TIMELINE))
    drawn = draw(view.timeline, window, ZoneInfo(paper.zone), hours_12=paper.hours_12)
    hours = [line.text.rstrip() for line in drawn] if width >= _LEAST_TIMELINE else []
    account = view.account
    chain = block(tomorrow_tables.chain_table(account), width) if account else []
    why = block(tomorrow_tables.why_table(account), width) if account else []
    return page(
        top,
        hours,
        block(tomorrow_tables.loads_table(view), width),
        chain,
        why,
        block(tomorrow_tables.lacks_table(view), width),
        block(tomorrow_tables.worth_table(view), width) if view.chances else [],
        block(promises_table(view.promises), width),
    )


@render.register
def _service(view: Service, paper: Paper) -> str:
    width, title = paper.width, paper.title
    top = heading(title, view.countdown, width)
    orders = block(service_tables.orders_table(view), width) if view.orders else []
    left = block(service_tables.left_table(view), width) if view.left else []
    return page(top, left, block(service_tables.items_table(view), width), orders)


@render.register
def _batches(view: Batches, paper: Paper) -> str:
    width = paper.width
    cards = view.cards or ((view.card,) if view.card else ())
    told = [
        block(table, width)
        for card in cards
        for table in (batches_tables.weighing_table(card), batches_tables.says_table(card))
    ]
    top = heading(paper.title, batches_tables.counts_line(view), width)
    return page(top, block(batches_tables.list_table(view), width), *told)


@render.register
def _record(view: Record, paper: Paper) -> str:
    width, title = paper.width, paper.title
    return page(heading(title, "", width), block(record_tables.record_table(view), width))
