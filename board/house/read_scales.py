"""Reading what the house's scales and jugs show, from `[scales]` of house.toml or the usual ones."""

import re
from collections.abc import Callable
from functools import cache
from importlib.resources import files
from math import inf

from board.errors import QuantityError
from board.house import units
from board.house.kinds import MASS, VOLUME, Kind
from board.house.model import Scales, Steps
from board.house.tables import Table, toml_table

_MASSES = 'steps such as ["1 g to 1 kg", "5 g"], finest first, the last without an end'
_VOLUMES = 'steps such as ["10 mL to 1 L", "50 mL"], finest first, the last without an end'
_FINE = 'one step such as ["0.1 g to 200 g"]'


def read_scales(given: Table | None) -> Scales:
    """The house's scales; what it leaves out is as usual."""
    usual = usual_scales()
    if given is None:
        return usual
    found = Scales(
        fine=given.value("fine", usual.fine, _steps(MASS, units.parse_mass_kg), _FINE),
        bench=given.value("bench", usual.bench, _steps(MASS, units.parse_mass_kg), _MASSES),
        jug=given.value("jug", usual.jug, _steps(VOLUME, units.parse_volume_l), _VOLUMES),
    )
    given.done()
    if found.bench[-1][0] != inf:
        raise given.refuse("bench", _MASSES)
    if found.jug[-1][0] != inf:
        raise given.refuse("jug", _VOLUMES)
    return found


@cache
def usual_scales() -> Scales:
    """The scales and jugs of a kitchen that does not say (data/scales.toml)."""
    text = files("board.house").joinpath("data", "scales.toml").read_text(encoding="utf-8")
    row = toml_table("scales.toml", text)
    row.text("source")
    masses, volumes = _steps(MASS, units.parse_mass_kg), _steps(VOLUME, units.parse_volume_l)
    return Scales(
        fine=row.value("fine", None, masses, _FINE),
        bench=row.value("bench", None, masses, _MASSES),
        jug=row.value("jug", None, volumes, _VOLUMES),
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
