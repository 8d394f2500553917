"""Reading what the house's scales and jugs show, from `[scales]` of house.toml or the usual ones."""

import re
from collections.abc import Callable
from functools import cache
from math import inf

from board.errors import QuantityError
from board.house import units
from board.house.kinds import MASS, VOLUME, Kind
from board.house.model import Scales, Steps
from board.house.shipped import shipped
from board.house.tables import Table

_MASSES = 'steps such as ["1 g to 1 kg", "5 g"], finest first, the last without an end'
_VOLUMES = 'steps such as ["10 mL to 1 L", "50 mL"], finest first, the last without an end'
_FINE = 'one step such as ["0.1 g to 200 g"]'


def read_scales(given: Table | None) -> Scales:
    """The house's scales; what it leaves out is as usual."""
    usual = usual_scales()
    if given is None:
        return usual
    found = _scales(given, usual)
    given.done()
    if found.bench[-1][0] != inf:
        raise given.refuse("bench", _MASSES)
    if found.jug[-1][0] != inf:
        raise given.refuse("jug", _VOLUMES)
    return found


@cache
def usual_scales() -> Scales:
    """The scales and jugs of a kitchen that does not say (data/scales.toml)."""
    return _scales(Table("scales.toml", (), shipped("scales")), None)


def _scales(row: Table, usual: Scales | None) -> Scales:
    """What a table says of them, and for what it leaves out the usual ones, where there are any."""
    masses, volumes = _steps(MASS, units.parse_mass_kg), _steps(VOLUME, units.parse_volume_l)
    return Scales(
        fine=row.value("fine", usual.fine if usual else None, masses, _FINE),
        bench=row.value("bench", usual.bench if usual else None, masses, _MASSES),
        jug=row.value("jug", usual.jug if usual else None, volumes, _VOLUMES),
    )


def _steps(kind: Kind, read: Callable[[str], float]) -> Callable[[object], Steps]:
    """A reader of `step to amount` texts, as (below, step) in grams or millilitres and the step's unit."""

    def steps(raw: object) -> Steps:
        texts = [raw] if isinstance(raw, str) else raw
        if not isinstance(texts, list) or not texts:
            raise TypeError(raw)
        found = tuple(_step(text, kind, read) for text in texts)
        ends = [end for end, _, _ in found]
        if ends != sorted(set(ends)) or any(step <= 0 for _, step, _ in found):
            raise ValueError(raw)
        return found

    return steps


def _step(text: object, kind: Kind, read: Callable[[str], float]) -> tuple[float, float, str]:
    if not isinstance(text, str):
        raise TypeError(text)
    step, *end = re.split(r"\s+to\s+", text.strip())
    _, unit = units.amount_and_unit(step)
    if len(end) > 1 or unit not in kind.units:
        raise QuantityError(text)
    return (1_000 * read(end[0]) if end else inf), 1_000 * read(step), unit
