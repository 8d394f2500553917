"""Why a load cannot be cooked at all, in a sentence."""

from collections.abc import Sequence
from dataclasses import dataclass

from board.house.model import Cut, House
from board.house.units import format_area, format_temperature
from board.house.wording import clock_and_day, duration, in_list
from board.planning.crew import Crew, throughout
from board.planning.grid import SLOT_MINUTES, Grid
from board.planning.modes import takes
from board.planning.problem import Hopeless, Part, PitRoom
from board.planning.windows import Lengths, Outset, lead_slots, prepared, staffed


@dataclass(frozen=True)
class Stuck:
    """A part no start suits, on the pit that would cook it soonest.

    `window` holds the starts that would meet the need.
    """

    house: House
    grid: Grid
    crew: Crew
    part: Part
    lengths: Lengths
    room: PitRoom
    window: range
    outset: Outset

    @property
    def latest(self) -> int:
        """The slot by which loading had to begin for the need to be met by the usual cook."""
        return self.part.ready_by - self.part.rest_min - self.lengths.load - self.lengths.d50

    def when(self, slot: int) -> str:
        """A slot as the house says it: `21:10 on Sat 19 Dec`."""
        return clock_and_day(self.grid.moment(slot), self.house)


def no_pit(house: House, cut: Cut) -> Hopeless:
    """Why no pit takes a cut: not named, too big a piece, or no common setpoint."""
    named = [pit for pit in house.pits.values() if not pit.takes or cut.id in pit.takes]
    if not named:
        return Hopeless(f"no pit of this house takes {cut.name}")
    roomy = [pit for pit in named if takes(pit, cut)]
    if not roomy:
        area = format_area(cut.area_m2, house.display)
        return Hopeless(f"one piece of {cut.name} takes {area}, more than any pit that may cook it")
    low, high = (format_temperature(c, house.display) for c in (cut.pit_c.low, cut.pit_c.high))
    pits = in_list([pit.name for pit in roomy])
    return Hopeless(f"{cut.name} cooks at {low} to {high}; {pits} cannot be set there")


def no_start(stuck: Stuck) -> Hopeless:
    """Why no moment suits: too late by now, prep that cannot be done, nobody there, or the pit out of use."""
    name, lengths, room = stuck.part.need.cut.name, stuck.lengths, stuck.room
    if not stuck.window:
        cook = duration((lengths.load + lengths.d50) * SLOT_MINUTES)
        why = f"{name} takes {cook} on {room.pit.name} and had to go on by {stuck.when(stuck.latest)}"
        return Hopeless(why, _soonest(stuck, 0))
    inside = [s for s in stuck.window if 0 <= s < stuck.grid.slots]
    ready = prepared(stuck.part.need.cut.prep, stuck.part.pieces, stuck.crew, stuck.outset)
    if not any(ready[s] for s in inside):
        return _no_prep(stuck)
    whole = throughout(~room.shut, lengths.warm + lengths.load + lengths.d90)
    if not any(whole[s - lengths.warm] for s in inside if s >= lengths.warm):
        return Hopeless(f"{room.pit.name} is out of use when {name} must cook")
    ok = staffed(lengths, stuck.crew, room.shut)
    if not any(ok[s] for s in inside):
        return _nobody(stuck, inside)
    return Hopeless(f"{name} can be prepared or staffed, but never both for one start")


def _no_prep(stuck: Stuck) -> Hopeless:
    steps = stuck.part.need.cut.prep
    lead = lead_slots(steps, stuck.part.pieces)[0]
    begin = stuck.when(stuck.latest - lead)
    first = steps[0].what if steps else "the cook"
    why = f"{stuck.part.need.cut.name}: {first} had to begin by {begin}, with someone there for each step"
    return Hopeless(why, _soonest(stuck, lead))


def _soonest(stuck: Stuck, lead: int) -> tuple[str, ...]:
    """From when it could be promised, begun now; nothing where the plan has no now."""
    if stuck.outset.earliest <= 0:
        return ()
    cook = stuck.lengths.warm + stuck.lengths.load + stuck.lengths.d90 + stuck.part.rest_min
    return (f"promise it from {stuck.when(stuck.outset.earliest + lead + cook)} on",)


def _nobody(stuck: Stuck, inside: Sequence[int]) -> Hopeless:
    name, lengths = stuck.part.need.cut.name, stuck.lengths
    first, last = stuck.when(inside[0]), stuck.when(inside[-1])
    if not any(stuck.crew.someone("load", lengths.load)[s] for s in inside):
        why = f"nobody is on shift to load {name} between {first} and {last}"
        return Hopeless(why, (f"someone on shift to load it between {first} and {last}",))
    begin, end = inside[-1] - lengths.warm, inside[-1] + lengths.load + lengths.d90
    cure = (f"someone on shift from {stuck.when(begin)} to {stuck.when(end)}",)
    if lengths.tended:
        return Hopeless(f"nobody is on shift to watch the fire all through the cook of {name}", cure)
    return Hopeless(f"nobody is on shift in the hours when {name} may have to be wrapped or pulled", cure)
