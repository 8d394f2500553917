"""Members side by side: what they are made of, what they meet and where they stand, as arrays."""

from dataclasses import dataclass, fields
from typing import Any, Self

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Indices = NDArray[np.intp]


def whole(nodes: Floats) -> Floats:
    """Nodes summed from the core out, in the same order however many members stand side by side."""
    if nodes.shape[-1] > 1 and nodes.flags.c_contiguous:
        return np.asarray(np.add.reduce(nodes, axis=0))
    return np.asarray(running(nodes)[-1])


def running(nodes: Floats) -> Floats:
    """Sums from the core out to each node."""
    sums = np.empty_like(nodes)
    sums[0] = nodes[0]
    for i in range(1, len(nodes)):
        np.add(sums[i - 1], nodes[i], out=sums[i])
    return sums


class Columns:
    """A set of arrays whose last axis is the members; picks some of them, or writes some back."""

    @classmethod
    def names(cls) -> list[str]:
        """The names of its arrays."""
        return [field.name for field in fields(cls)]  # type: ignore[arg-type]

    @classmethod
    def joined(cls, parts: "list[Self]") -> Self:
        """Several sets side by side."""
        return cls(*(np.concatenate([getattr(p, name) for p in parts], axis=-1) for name in cls.names()))

    def take(self, members: Indices) -> Self:
        """A copy holding only these members."""
        return type(self)(*(np.take(getattr(self, name), members, axis=-1) for name in self.names()))

    def put(self, members: Indices, source: Self) -> None:
        """Overwrite these members with the whole of another set."""
        for name in self.names():
            getattr(self, name)[..., members] = getattr(source, name)

    def __init__(self, *_arrays: Any) -> None:
        raise TypeError("only a kind of columns can be made, such as Meat")


@dataclass(slots=True)
class Meat(Columns):
    """What does not change while a member cooks.

    `volume` (m, a square metre of surface; `depth` over all nodes) and `conductance` (area over distance,
    1/m) carry the body;
    `heat` and `conductivity` are polynomials of °C; the rest are the juice's, by member; `renders` is the
    fat that melts out of meat hot enough, kg/kg raw.
    """

    volume: Floats
    depth: Floats
    conductance: Floats
    heat: Floats
    conductivity: Floats
    density: Floats
    water: Floats
    expelled: Floats
    midpoint: Floats
    width: Floats
    lag: Floats
    wicking: Floats
    pressure: Floats
    boiling: Floats
    renders: Floats


@dataclass(slots=True)
class Surroundings(Columns):
    """What a surface meets: air, walls, coals, and a wrap's resistance to heat and vapour.

    `h` W/(m² K), `air_c` °C, `wall_k` K, `radiant` W/m², `gap_m2k_w` m² K/W, `vapour_pa` Pa, `transfer`
    kg/(m² s) of vapour a unit of Stefan's logarithm, `wrap_m2s_kg` m² s/kg.
    """

    h: Floats
    emissivity: Floats
    air_c: Floats
    wall_k: Floats
    radiant: Floats
    gap_m2k_w: Floats
    vapour_pa: Floats
    transfer: Floats
    wrap_m2s_kg: Floats


@dataclass(slots=True)
class State(Columns):
    """Where each member stands.

    Temperatures now and a step before (°C), juice expelled and water boiled off (kg/kg raw), the film
    (kg/m²), the clock and the steps (s; `step_wanted` is what the last one's error suggests), and what has
    gone by: heat taken in (J/m²), water evaporated from the film and dripped (kg/m²), and the core's
    tenderness as seconds at 93 °C.
    """

    celsius: Floats
    celsius_before: Floats
    expelled: Floats
    boiled: Floats
    film: Floats
    seconds: Floats
    step: Floats
    step_before: Floats
    step_wanted: Floats
    heat_in: Floats
    evaporated: Floats
    dripped: Floats
    tender: Floats


@dataclass(frozen=True, slots=True)
class Constants:
    """Scalars every member shares; meanings and units in data/parameters.toml."""

    juice_heat: float
    water_activity: float
    film_half: float
    film_drip: float
    film_drip_rate: float
    boil: float
    boil_dry: float
    dry_conductivity: float
    fat_time: float
