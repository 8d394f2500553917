"""The wall: the few things to be read from far off, the next to do or the service that runs."""

from dataclasses import dataclass

from board.house.spans import minutes_between
from board.views import names
from board.views.alarm_answers import sign
from board.views.do_next import Next
from board.views.facts import Facts
from board.views.hold_age import Old
from board.views.opening import Opening, Standing, countdown, next_occasion, opening
from board.views.progress import Revised, Risk
from board.views.remedying import Advised
from board.views.service import ItemLine, service
from board.views.text import Cell, Tone, inert

THINGS = 4
SOON_MINUTES = 15  # so long before a service the wall turns to it

Row = tuple[Cell, ...]


@dataclass(frozen=True, slots=True)
class WallLine:
    """One thing on the wall: what it is about, what stands before and after it, and what is small beside it.

    Where letters have room, what is beside grows too; where they have none, what is before goes small,
    then what is after.
    """

    name: Cell
    before: Row = ()
    after: Row = ()
    beside: Row = ()

    @property
    def cells(self) -> Row:
        """All of it, in reading order."""
        return (*self.before, self.name, *self.after, *self.beside)


@dataclass(frozen=True, slots=True)
class Wall:
    """The clock, the service ahead and how far it is, and the lines by weight."""

    clock: str
    service: str
    left: str
    lines: tuple[WallLine, ...]
    serving: bool = False

    @property
    def countdown(self) -> str:
        """The service and how far it is: `lunch in 5 h 18`."""
        return f"{self.service} {self.left}".strip()


def wall(facts: Facts, revised: Revised | None = None, advised: Advised | None = None) -> Wall:
    """What the wall shows at one moment: before a service what to do, in it what is ready and left."""
    coming = next_occasion(facts)
    clock = names.clock(facts.house, facts.now)
    seen = opening(facts, revised, advised)
    if coming is None:
        return Wall(clock, "no service ahead", "", _to_do(seen, THINGS))
    occasion = coming[1]
    name = inert(occasion.name)
    left = countdown(facts, occasion).removeprefix(name).strip()
    if minutes_between(facts.now, occasion.at) > SOON_MINUTES:
        steps = _to_do(seen, THINGS)
        return Wall(clock, name, left, (*steps[:1], *_late(seen), *steps[1:]))
    items = sorted(service(facts, revised).lines, key=lambda item: (item.sold_out, not item.runs_short))
    lines = (*_late(seen), *(_item(item) for item in items), *_to_do(seen, 1))
    return Wall(clock, name, left, lines, serving=True)


def _to_do(seen: Opening, most: int) -> tuple[WallLine, ...]:
    return tuple(_thing(one) for one in seen.next[:most])


def _thing(one: Next) -> WallLine:
    """When and what; beside it where, and who."""
    when = one.tone if one.tone is not Tone.PLAIN else Tone.QUIET
    where = (Cell(one.where),) if one.where else ()
    who = (Cell(one.who, Tone.QUIET),) if one.who else ()
    return WallLine(Cell(one.what, Tone.STRONG), (Cell(one.clock, when),), beside=(*where, *who))


def _late(seen: Opening) -> tuple[WallLine, ...]:
    """The load that is latest, if one is, with what would help."""
    late: list[Standing] = [load for load in seen.standing if load.risk is Risk.LATE]
    return tuple(
        WallLine(
            Cell(one.meat, Tone.LATE),
            before=(Cell("▲", Tone.LATE),),
            after=(Cell(f"late {one.spare}", Tone.LATE),),
            beside=(Cell(one.pit), *((Cell(one.remedy, Tone.GOOD),) if one.remedy else ())),
        )
        for one in late[:1]
    )


def _item(item: ItemLine) -> WallLine:
    """What is ready of an item, and beside it how many are still to sell and how long that lasts."""
    if item.sold_out:
        return WallLine(Cell(item.name, Tone.QUIET), after=(Cell("sold out", Tone.QUIET),))
    signs = [*_short(item), *_too_old(item)]
    ready = Cell(f"{item.holding} ready", Tone.GOOD if item.holding else Tone.CARE)
    left = Cell(f"{item.left} left", Tone.PLAIN)
    if signs:
        tone = signs[0].tone
        return WallLine(Cell(item.name, tone), (Cell(sign(tone), tone),), (ready,), (left, *signs))
    lasts = Cell(f"lasts {item.lasts}" if item.lasts else "", Tone.QUIET)
    return WallLine(Cell(item.name, Tone.STRONG), after=(ready,), beside=(left, lasts))


def _short(item: ItemLine) -> Row:
    return (Cell(item.lasts, Tone.LATE),) if item.runs_short else ()


def _too_old(item: ItemLine) -> Row:
    """A warning for what is held past its limit: a rule's in red, the house's own to be minded."""
    if item.age is None or item.age.old is not Old.OVER:
        return ()
    return (Cell("held too long", Tone.LATE if item.age.by_rule else Tone.CARE),)
