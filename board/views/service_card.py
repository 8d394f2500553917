"""One item of a service by itself: what its figures mean, its loads one by one, its portions ahead."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

from board.house.spans import minutes_between
from board.planning.plan import Occasion, Plan
from board.views import names
from board.views.facts import Facts, promised
from board.views.guidance import Key
from board.views.hold_age import Age, Old, age_of
from board.views.opening import next_occasion
from board.views.progress import Revised, Risk
from board.views.reference import ref
from board.views.selling import lasting, pace
from board.views.spots import spot
from board.views.stock import Part, Stock, Where, stock_of
from board.views.text import Tone, inert

QUARTER = timedelta(minutes=15)
_MOST_QUARTERS = 40


@dataclass(frozen=True, slots=True)
class LoadLine:
    """What is left of one load: which pieces, where, how far, how old, and for whom."""

    key: str
    meat: str
    place: str
    portions: int
    state: str
    risk: Risk
    age: Age | None
    serves: str


@dataclass(frozen=True, slots=True)
class Quarter:
    """A quarter of an hour ahead: portions there as it begins, if sales go on as reckoned."""

    clock: str
    there: int
    on_the_hour: bool


@dataclass(frozen=True, slots=True)
class ItemCard:
    """One item: sentences that explain its row, its loads, and the portions ahead."""

    name: str
    says: tuple[tuple[str, Tone], ...]
    loads: tuple[LoadLine, ...]
    ahead: tuple[Quarter, ...]


def item_card(facts: Facts, item: str, key: Key, revised: Revised | None = None) -> ItemCard | None:
    """The card of one item of the service now or next."""
    coming = next_occasion(facts)
    if coming is None:
        return None
    plan, occasion = coming
    if item not in promised(facts, plan, occasion):
        return None
    stock = stock_of(facts, plan, occasion, item, revised)
    over = (f"sold out; {key('sold-out')} takes that back when there is more", Tone.CARE)
    is_over = (plan.day, occasion.id, item) in facts.sold_out
    return ItemCard(
        names.item_name(facts.house, item),
        (over,) if is_over else tuple(_says(facts, plan, occasion, stock)),
        tuple(_load(facts, plan, part) for part in stock.parts),
        tuple(_ahead(facts, plan, occasion, item, stock)),
    )


def _says(facts: Facts, plan: Plan, occasion: Occasion, stock: Stock) -> Iterator[tuple[str, Tone]]:
    found = lasting(facts, plan, occasion, stock)
    if found.says:
        goes = "lasts " if found.says.startswith(("until", "to the end")) else ""
        about = f"about {found.per_hour:.0f} an hour" if found.per_hour >= 1 else "under 1 an hour"
        yield f"{goes}{found.says}: {about}, {found.leans}", Tone.LATE if found.soon else Tone.PLAIN
    ages = [_age(facts, plan, part) for part in stock.free]
    oldest = max((a for a in ages if a is not None), key=lambda a: (a.old, a.minutes), default=None)
    if oldest is not None and oldest.old is not Old.FINE:
        word = "past" if oldest.old is Old.OVER else "near"
        yield f"{word} its longest: {oldest.why}", Tone.LATE if oldest.by_rule else Tone.CARE
    if stock.aside:
        yield f"{stock.aside} more are kept for orders", Tone.QUIET
    later = sum(part.portions for part in stock.later)
    if later:
        yield f"{later} more are for {_services(plan, stock.later)}", Tone.QUIET


def _services(plan: Plan, parts: tuple[Part, ...]) -> str:
    """The services and orders that some loads are for, in words."""
    ids = dict.fromkeys(id for part in parts for id in part.load.services)
    by_id = {one.id: one for one in plan.occasions}
    return names.listed([inert(by_id[id].name) for id in ids if id in by_id]) or "later"


def _age(facts: Facts, plan: Plan, part: Part) -> Age | None:
    held = part.where in (Where.READY, Where.FINISHING)
    return age_of(facts, plan, part.load, part.likely) if held else None


def _load(facts: Facts, plan: Plan, part: Part) -> LoadLine:
    ready = names.clock(facts.house, part.likely.ready.p50)
    state = {
        Where.READY: "ready",
        Where.FINISHING: f"to {inert(part.finish.what)}" if part.finish else "",
        Where.RESTING: f"rests until {ready}",
        Where.COMING: f"ready {ready}",
    }[part.where]
    coming = part.where is Where.COMING
    return LoadLine(
        ref(plan.day, part.load.id),
        names.pieces(facts.house, part.load),
        spot(facts, part.load, plan.day) if coming else "off",
        part.portions,
        state,
        part.likely.risk if coming else Risk.IN_TIME,
        _age(facts, plan, part),
        _services(plan, (part,)),
    )


def _ahead(facts: Facts, plan: Plan, occasion: Occasion, item: str, stock: Stock) -> Iterator[Quarter]:
    """Portions there at each quarter of an hour until the service ends."""
    per_minute = pace(facts, plan, occasion, item).per_minute
    start = max(facts.now, occasion.at)
    moment = _quarter_of(start)
    left, last = float(stock.portions(Where.READY)), start
    coming = sorted(stock.arrivals(facts.now))
    for _ in range(_MOST_QUARTERS):
        if moment >= occasion.until:
            return
        while coming and coming[0][0] <= moment:
            at, portions = coming.pop(0)
            left = max(0.0, left - per_minute * max(0.0, minutes_between(last, at))) + portions
            last = max(last, at)
        left = max(0.0, left - per_minute * max(0.0, minutes_between(last, moment)))
        last = max(last, moment)
        yield Quarter(names.clock(facts.house, moment), int(left), moment.minute == 0)
        moment += QUARTER


def _quarter_of(moment: datetime) -> datetime:
    """The quarter of an hour a moment lies in."""
    return moment.replace(minute=moment.minute // 15 * 15, second=0, microsecond=0)
