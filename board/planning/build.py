"""Put a day's needs, the pits and the crew onto one grid: the problem the solvers share."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import datetime

from board.cooking.learning.learn import learn
from board.house.model import House
from board.planning.cook_times import CookQuestion, CookTime, cook_times, counted
from board.planning.demand import Need
from board.planning.frame import frame_of, grid_of
from board.planning.joining import gatherings
from board.planning.mode_making import question, turned
from board.planning.modes import palette, places, settings, turn_to, warmer_k
from board.planning.part_making import hopeless, part_of
from board.planning.parts import Share, shares_of
from board.planning.problem import Problem
from board.planning.standing import NOTHING, Standing
from board.planning.weights import Weights


def build(
    house: House,
    needs: Sequence[Need],
    weights: Weights,
    *,
    seed: int,
    now: datetime | None,
    standing: Standing = NOTHING,
    shares: Sequence[Share] = (),
    also: Mapping[str, tuple[float, ...]] | None = None,
) -> Problem:
    """The planning problem of a day: parts with their modes and starts, pits, people and room.

    Args:
        shares: the needs as they are cut already; without any they are cut here.
        also: more setpoints in °C to offer, by pit.
    """
    rooms = list({replace(pit, id="", name=""): pit for pit in house.pits.values()}.values())
    others = () if shares else gatherings(house, needs, weights.enough_chance)
    shares = shares or [share for need in needs for share in shares_of(need, rooms)]
    asked = [
        *shares,
        *(share for other in others for need in other.instead for share in shares_of(need, rooms)),
    ]
    offers = _offers(house, needs, also or {})
    times = _times(house, asked, offers, seed)
    frame = frame_of(
        house,
        shares,
        grid=grid_of(house, asked, times, now),
        times=times,
        offers=offers,
        weights=weights,
        now=now,
        standing=standing,
    )
    parts = [part_of(frame, share, f"{share.number}") for share in shares]
    no_start = {part.id: hopeless(frame, part) for part in parts if not any(m.starts for m in part.modes)}
    return Problem(frame, tuple(parts), no_start, others)


def _offers(
    house: House, needs: Sequence[Need], also: Mapping[str, tuple[float, ...]]
) -> dict[str, tuple[float, ...]]:
    """The setpoints in °C that each pit offers, each once."""
    cuts = list({need.cut.id: need.cut for need in needs}.values())
    return {
        pit.id: tuple(dict.fromkeys((*palette(pit, cuts), *also.get(pit.id, ()))))
        for pit in house.pits.values()
    }


def _times(
    house: House, shares: Sequence[Share], offers: dict[str, tuple[float, ...]], seed: int
) -> dict[CookQuestion, CookTime]:
    """Every cook a share could have: at each setpoint alone, then with each change of it on the way."""

    def timed(asked: Iterable[CookQuestion]) -> dict[CookQuestion, CookTime]:
        return cook_times(
            asked, house.cuts, house.pits, altitude_m=house.altitude_m, seed=seed, learned=learn(house)
        )

    asked = dict(_asked(house, shares, offers))
    plain = timed(asked)
    changed = [
        after
        for first, (then_air_c, minutes) in asked.items()
        if then_air_c is not None and (after := turned(first, plain[first], then_air_c, minutes))
    ]
    return plain | timed(changed) if changed else plain


def _asked(
    house: House, shares: Sequence[Share], offers: dict[str, tuple[float, ...]]
) -> Iterator[tuple[CookQuestion, tuple[float | None, float]]]:
    """Each question with the air its cook may be brought to after wrapping, and within how many minutes."""
    spots = [(pit, zone) for pit in house.pits.values() for zone in places(pit)]
    alike = {(share.need.cut.id, counted(share.timed_as)): share.need.cut for share in shares}
    for (_, pieces), cut in alike.items():
        for pit, zone in spots:
            for setpoint in settings(cut, pit, offers[pit.id], zone):
                then, more = turn_to(cut, pit, setpoint, zone), warmer_k(zone)
                first = question(cut, pit, setpoint + more, pieces)
                yield first, (None if then is None else then + more, pit.change_over_minutes)
