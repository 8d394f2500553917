"""Problems of any size whose best plan is known: three loads fill each pit to the last square centimetre.

n alike pits of one area A; 3n loads due at the same time, each larger than A/4 and smaller than A/2, made by
cutting each pit's area in three. All take the same slots on the pit, at one setpoint, and may begin in a few
slots only, fewer than a cook lasts; no start is late, thin or held too long, hands are plenty.

Why the best plan lights every pit once and costs n · (lighting + fuel · (warm + stay)):
* The windows are shorter than a cook, so that there is an instant at which every load is on, whatever its
  start. The loads fill n · A there, so all of them need n pits, each hot from a load's start until it is off:
  warm + stay slots at least, and lit once. The pits filled as they were cut, all loads at one start, cost
  just that.
* To need k pits fewer, loads of k · A must be left out: more than 2k of them, each smaller than A/2. Two
  loads unserved cost more than a pit's fire, which the maker asserts.
Finding the plan is 3-partition, which is NP-complete in the strong sense (Garey and Johnson 1979, SP15,
from memory).
"""

import random
from dataclasses import replace

import numpy as np

from board.planning.crew import Crew
from board.planning.problem import Problem, Spot

# Slots a load is on the pit, slots of its window, and how long before it is due the last start is.
COOK, WINDOW, EASE = 60, 4, 2


def planted(template, pits, seed):
    """A problem with so many pits and three times as many loads, and the cost of its best plan.

    Args:
        template: any problem with a part that has a mode with starts; its house lends the names.
    """
    chance = random.Random(seed)
    frame, part = template.frame, next(p for p in template.parts if any(m.starts for m in p.modes))
    mode = next(m for m in part.modes if m.starts)
    room, area = frame.pits[mode.pit], 10_000
    names, never = [f"p{i}" for i in range(pits)], np.zeros_like(room.shut)
    rooms = {pit: replace(room, pit=replace(room.pit, id=pit), area_cm2=area, shut=never) for pit in names}
    last = part.ready_by - part.rest_min - COOK - 1 - EASE
    starts = tuple(range(last - WINDOW + 1, last + 1))
    loads = [
        replace(
            part,
            id=f"load-{i}",
            share=replace(part.share, pieces=1),  # so that no load can be cut in two
            area_cm2=cm2,
            load=1,
            pull=1,
            wait_until=part.ready_by,
            modes=tuple(_mode(mode, pit, starts) for pit in rooms),
        )
        for i, cm2 in enumerate(_cut(area, pits, chance))
    ]
    slots, people = frame.grid.slots, 3 * pits + 1
    crew = Crew(
        (replace(frame.crew.people[0], can=()),) * people,
        np.ones((people, slots), dtype=np.bool_),
        np.zeros((people, slots), dtype=np.bool_),
    )
    taken = replace(
        frame.taken,
        runs=dict.fromkeys(rooms, ()),
        cooking=dict.fromkeys(rooms, ()),
        busy=crew.busy,
        birds={},
        others={},
    )
    big = 3 * pits * area
    frame = replace(
        frame,
        crew=crew,
        pits=rooms,
        offers=dict.fromkeys(rooms, frame.offers[mode.pit]),
        spots={pit: Spot(pit, pit, area) for pit in rooms},
        times={},
        bench_cm2=big,
        hold_cm2=big,
        taken=taken,
    )
    each = frame.weights.lighting + room.fuel_points * (room.warm + 1 + COOK)
    assert 2 * frame.weights.unserved_portion * part.worth > each
    return Problem(frame, tuple(loads)), pits * each


def _mode(mode, pit, starts):
    lengths = {"d10": COOK, "d50": COOK, "d90": COOK, "dq": COOK}
    return replace(mode, pit=pit, spot=pit, starts=starts, wrap=None, turn=None, work_points=0.0, **lengths)


def _cut(area, pits, chance):
    """Areas of three loads for each pit, shuffled."""
    found = []
    while len(found) < 3 * pits:
        a, b = (chance.randrange(area // 4 + 1, area // 2) for _ in range(2))
        if area // 4 < area - a - b < area / 2:
            found += [a, b, area - a - b]
    chance.shuffle(found)
    return found
