"""The wall: the few things to be read from far off, the next to do or the service that runs."""

from dataclasses import dataclass

from board.house.spans import minutes_between
from board.views import names
from board.views.do_next import Next
from board.views.facts import Facts
from board.views.hold_age import Old
from board.views.opening import Opening, Standing, countdown, next_occasion, opening
from board.views.progress import Revised, Risk
from board.views.service import ItemLine, service
from board.views.text import Cell, Tone, inert

THINGS = 3
SOON_MINUTES = 15  # so long before a service the wall turns to it


@dataclass(frozen=True, slots=True)
class Wall:
    """The clock, the service ahead and how far it is, and lines by weight, each of pieces with tones."""

    clock: str
    service: str
    left: str
    lines: tuple[tuple[Cell, ...], ...]
    serving: bool = False

    @property
    def countdown(self) -> str:
        """The service and how far it is: `lunch in 5 h 18`."""
        return f"{self.service} {self.left}".strip()


def wall(facts: Facts, revised: Revised | None = None) -> Wall:
    """What the wall shows at one moment: before a service what to do, in it what is ready and left."""
    coming = next_occasion(facts)
    clock = names.clock(facts.house, facts.now)
    seen = opening(facts, revised)
    if coming is None:
        return Wall(clock, "no service ahead", "", _to_do(seen, THINGS))
    occasion = coming[1]
    name = inert(occasion.name)
    left = countdown(facts, occasion).removeprefix(name).strip()
    if minutes_between(facts.now, occasion.at) > SOON_MINUTES:
        first, *others = _to_do(seen, THINGS) or ((),)
        return Wall(clock, name, left, tuple(line for line in (first, *_late(seen), *others) if line))
    items = sorted(service(facts, revised).lines, key=lambda item: (item.sold_out, not item.runs_short))
    lines = (*_late(seen), *(_item(item) for item in items), *_to_do(seen, 1))
    return Wall(clock, name, left, lines, serving=True)


def _to_do(seen: Opening, most: int) -> tuple[tuple[Cell, ...], ...]:
    return tuple(_thing(one) for one in seen.next[:most])


def _thing(one: Next) -> tuple[Cell, ...]:
    """When, what and where, and who."""
    when = one.tone if one.tone is not Tone.PLAIN else Tone.QUIET
    who = (Cell(one.who, Tone.QUIET),) if one.who else ()
    return (Cell(one.clock, when), Cell(one.says, Tone.STRONG, short=one.short), *who)


def _late(seen: Opening) -> tuple[tuple[Cell, ...], ...]:
    """The load that is latest, if one is."""
    late: list[Standing] = [load for load in seen.standing if load.risk is Risk.LATE]
    return tuple((Cell(f"▲ late {one.spare}: {one.meat}, {one.pit}", Tone.LATE),) for one in late[:1])


def _item(item: ItemLine) -> tuple[Cell, ...]:
    """What is ready of an item and how many are still to sell."""
    name = Cell(item.name, Tone.QUIET if item.sold_out else Tone.STRONG)
    if item.sold_out:
        return (name, Cell("▲ sold out", Tone.LATE))
    ready = Cell(f"{item.holding} ready", Tone.GOOD if item.holding else Tone.CARE)
    left = Cell(f"{item.left} left", Tone.PLAIN)
    short = (Cell(f"▲ {item.lasts}", Tone.LATE),) if item.runs_short else ()
    return (name, ready, left, *short, *_too_old(item))


def _too_old(item: ItemLine) -> tuple[Cell, ...]:
    """A warning for what is held past its limit: a rule's in red, the house's own to be minded."""
    if item.age is None or item.age.old is not Old.OVER:
        return ()
    tone = Tone.LATE if item.age.by_rule else Tone.CARE
    return (Cell("▲ held too long", tone, short="▲ too long"),)
