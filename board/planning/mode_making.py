"""Every way a part could cook: its pit and zone, its setpoints, its lengths, and the starts it could have."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from board.house.model import Cut, Pit, Zone
from board.planning.cook_times import AirChange, CookQuestion, CookTime, counted
from board.planning.crew import Flags
from board.planning.grid import SLOT_MINUTES, slots_down, slots_up
from board.planning.modes import places as places_of
from board.planning.modes import settings, turn_to, warmer_k
from board.planning.offered import first_alike, pits_offered
from board.planning.problem import SAME_SETPOINT_K, Frame, Mode, Part, PitRoom, Turn
from board.planning.standing import spot_id
from board.planning.windows import Lengths, staffed, timely


@dataclass(frozen=True)
class Place:
    """A pit on the grid and a zone of it, or all of it."""

    room: PitRoom
    zone: Zone | None

    @property
    def spot(self) -> str:
        """The name of its spot."""
        return spot_id(self.room.pit.id, None if self.zone is None else self.zone.id)

    @property
    def warmer_k(self) -> float:
        """How much hotter than the setpoint it is there."""
        return warmer_k(self.zone)


def question(cut: Cut, pit: Pit, air_c: float, pieces: int) -> CookQuestion:
    """The cook-time question of so many pieces of a cut in a pit's air where they lie."""
    return CookQuestion(cut.id, pit.id, air_c, counted(pieces))


def turned(
    plain: CookQuestion, time: CookTime, then_air_c: float, change_over_minutes: float
) -> CookQuestion | None:
    """The same cook with its air changed when it is usually wrapped; none where it is not wrapped."""
    if time.wrap_minutes is None:
        return None
    minute = float(slots_up(time.wrap_minutes) * SLOT_MINUTES)
    return replace(plain, then=AirChange(minute, change_over_minutes, then_air_c))


def modes_of(frame: Frame, part: Part, ready: Flags) -> tuple[Mode, ...]:
    """Every mode of a part.

    Args:
        ready: the slots at which its preparation can be done.
    """
    pits = pits_offered(frame, part.id)
    asked = (
        "modes",
        _alike(part),
        ready.tobytes(),
        pits,
        tuple(frame.openings.get((part.id, pit), 0) for pit in pits) if frame.openings else (),
    )
    return frame.once(asked, lambda: tuple(_each_mode(frame, part, ready, pits)))


def _alike(part: Part) -> tuple[object, ...]:
    """All of a part that its modes depend on."""
    cook = (part.need.cut.id, part.share.timed_as, part.quantile, part.load, part.wrap, part.pull)
    return (*cook, part.ready_by, part.wait_until, part.rest_min, part.rest_max, part.hold_max)


def _each_mode(frame: Frame, part: Part, ready: Flags, pits: tuple[str, ...]) -> Iterator[Mode]:
    """Its modes pit by pit, worked out once for pits that differ in name alone."""
    first_of = first_alike(frame)
    made: dict[tuple[str, int], list[tuple[Place, Mode]]] = {}
    for pit in pits:
        room = frame.pits[pit]
        asked = (first_of[pit], frame.openings.get((part.id, pit), 0))
        if asked not in made:
            made[asked] = list(_on_pit(frame, part, room, ready))
        for place, mode in made[asked]:
            same = mode.pit == pit
            yield mode if same else replace(mode, pit=pit, spot=Place(room, place.zone).spot)


def _on_pit(frame: Frame, part: Part, room: PitRoom, ready: Flags) -> Iterator[tuple[Place, Mode]]:
    for zone in places_of(room.pit):
        place = Place(room, zone)
        for setpoint in settings(part.need.cut, room.pit, frame.offers[room.pit.id], zone):
            for mode in _at_setpoint(frame, part, place, setpoint, ready):
                yield place, mode


def _at_setpoint(frame: Frame, part: Part, place: Place, setpoint_c: float, ready: Flags) -> Iterator[Mode]:
    """Cooking at one setpoint, and at another from wrapping on where the cut has one."""
    cut, pit = part.need.cut, place.room.pit
    plain = question(cut, pit, setpoint_c + place.warmer_k, part.share.timed_as)
    time = frame.times[plain]
    yield _mode(frame, part, place, _Way(setpoint_c, None, time, ready))
    then = turn_to(cut, pit, setpoint_c, place.zone)
    asked = None if then is None else turned(plain, time, then + place.warmer_k, pit.change_over_minutes)
    after = None if asked is None else frame.times.get(asked)
    if then is None or asked is None or asked.then is None or after is None:
        return
    turn = Turn(slots_up(asked.then.minute), then)
    if 0 < turn.after < slots_up(after.minutes.p10):
        yield _mode(frame, part, place, _Way(setpoint_c, turn, after, ready))


@dataclass(frozen=True)
class _Way:
    setpoint_c: float
    turn: Turn | None
    time: CookTime
    ready: Flags


def _mode(frame: Frame, part: Part, place: Place, way: _Way) -> Mode:
    doors = frame.openings.get((part.id, place.room.pit.id), 0)
    time = way.time.longer(doors * place.room.pit.door_minutes)
    lengths = lengths_of(part, place.room, time, way.turn)
    return Mode(
        pit=place.room.pit.id,
        spot=place.spot,
        setpoint_c=way.setpoint_c,
        cook=time,
        d10=lengths.d10,
        d50=lengths.d50,
        d90=lengths.d90,
        dq=slots_up(time.quantile(part.quantile)),
        wrap=lengths.wrap_at,
        starts=_starts(frame, part, place, way, lengths),
        turn=way.turn,
        work_points=_work_points(frame, lengths),
        openings=doors,
    )


def _starts(frame: Frame, part: Part, place: Place, way: _Way, lengths: Lengths) -> tuple[int, ...]:
    """The timely starts its preparation, the crew and the pit allow; the same for pits alike."""
    shut = place.room.shut
    window = timely_starts(frame, part, lengths, hot_from(frame, place.room, way.setpoint_c))
    window = range(max(0, window.start), max(0, min(window.stop, frame.grid.slots)))

    def allowed() -> tuple[int, ...]:
        manned = frame.once(("manned", lengths, closed), lambda: staffed(lengths, frame.crew, shut))
        both = (way.ready & manned)[window.start : window.stop]
        return tuple((np.flatnonzero(both) + window.start).tolist())

    closed = shut.tobytes()
    return frame.once(("starts", lengths, closed, way.ready.tobytes(), window), allowed)


def _work_points(frame: Frame, lengths: Lengths) -> float:
    """Hands on the pit at the house's wage, in points."""
    slots = lengths.load + lengths.pull + (lengths.wrap if lengths.wrap_at is not None else 0)
    return 100 * frame.house.wage_per_hour * slots * SLOT_MINUTES / 60


def lengths_of(part: Part, room: PitRoom, time: CookTime, turn: Turn | None = None) -> Lengths:
    """A part's lengths in slots on one pit."""
    d50 = slots_up(time.minutes.p50)
    wrapping = time.wrap_minutes is not None and part.need.cut.wrap is not None
    return Lengths(
        load=part.load,
        d10=slots_down(time.minutes.p10),
        d50=d50,
        d90=max(d50 + part.pull, slots_up(time.minutes.p90)),
        wrap_at=min(slots_up(time.wrap_minutes or 0.0), d50) if wrapping else None,
        wrap=part.wrap,
        pull=part.pull,
        warm=room.warm,
        tended=room.pit.tend_fraction > 0,
        turn_at=None if turn is None else turn.after,
    )


def hot_from(frame: Frame, room: PitRoom, setpoint_c: float) -> int:
    """The first slot from now in which a pit can be hot: at once where it burns so already."""
    now = frame.outset.earliest
    soonest = now + room.warm
    for run in frame.taken.runs[room.pit.id]:
        if run.begin <= now <= run.end:
            same = abs(run.setpoint_c - setpoint_c) < SAME_SETPOINT_K
            hot = max(now, run.begin + room.warm) if same else max(now, run.end) + room.change_over
            soonest = min(soonest, hot)
    return soonest


def timely_starts(frame: Frame, part: Part, lengths: Lengths, hot: int) -> range:
    """Starts that meet the need and lie no earlier than a pit can be hot."""
    tardy = slots_down(frame.weights.tardy_minutes_most)
    starts = timely(
        lengths,
        part.ready_by,
        part.wait_until,
        rest=(part.rest_min, part.rest_max),
        hold_max=part.hold_max,
        tardy=tardy,
    )
    first = max(starts.start, hot)
    return range(first, max(first, starts.stop))
