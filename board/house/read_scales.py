"""Reading what the house's scales and jugs show, from `[scales]` of house.toml or the usual ones."""

import re
from collections.abc import Callable
from functools import cache
from importlib.resources import files
from math import inf

from board.errors import QuantityError
from board.house import units
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
        fine=given.value("fine", usual.fine, _steps(units.parse_mass_kg, 1_000), _FINE),
        bench=given.value("bench", usual.bench, _steps(units.parse_mass_kg, 1_000), _MASSES),
        jug=given.value("jug", usual.jug, _steps(units.parse_volume_l, 1_000), _VOLUMES),
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
    masses, volumes = _steps(units.parse_mass_kg, 1_000), _steps(units.parse_volume_l, 1_000)
    return Scales(
        fine=row.value("fine", None, masses, _FINE),
        bench=row.value("bench", None, masses, _MASSES),
        jug=row.value("jug", None, volumes, _VOLUMES),
    )


def _steps(read: Callable[[str], float], times: float) -> Callable[[object], Steps]:
    """A reader of `step to amount` texts, as (below, step) in grams or millilitres."""

    def steps(raw: object) -> Steps:
        texts = [raw] if isinstance(raw, str) else raw
        if not isinstance(texts, list) or not texts:
            raise TypeError(raw)
        found = tuple(_step(text, read, times) for text in texts)
        ends = [end for end, _ in found]
        if ends != sorted(set(ends)) or any(step <= 0 for _, step in found):
            raise ValueError(raw)
        return found

    return steps


def _step(text: object, read: Callable[[str], float], times: float) -> tuple[float, float]:
    if not isinstance(text, str):
        raise TypeError(text)
    step, *end = re.split(r"\s+to\s+", text.strip())
    if len(end) > 1:
        raise QuantityError(text)
    return (read(end[0]) * times if end else inf), read(step) * times
