"""Where a piece stands: on the pit, wrapped, on a bench, in a box, in a hold."""

from collections.abc import Mapping
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from board.cooking.cook import Cook, PitAir, Rest
from board.cooking.errors import CookingError
from board.cooking.physics.air import WATER_TO_AIR, ZERO_C_K, saturation_pa, vapour_pa
from board.cooking.physics.parameters import Parameters
from board.cooking.physics.surface import WETTEST
from board.cooking.sampling import Draws, spread_at
from board.cooking.solver.columns import Surroundings
from board.house.model import WrapMaterial
from board.house.pieces import grown

Floats = NDArray[np.float64]

TIGHT = 1e12  # m² s/kg: a wrap no vapour passes
REST_PLACES = ("room", "cooler", "hold")


def on_pit(pit: PitAir, base_c: float, draws: Draws, parameters: Parameters, pressure: float) -> Surroundings:
    """Bare on a pit whose air stands at `base_c`, each member's own departure added."""
    h = spread_at(pit.h_c, draws.normal["h"])
    air = base_c + draws.air_k
    place = _bare(h, air, spread_at(pit.humidity, draws.normal["humidity"]), parameters, pressure)
    view = parameters.view[pit.kind]
    place.emissivity = view * parameters.priors["emissivity"].at(draws.normal["emissivity"])
    place.radiant = np.full_like(air, parameters.radiant[pit.kind])
    return place


def wrapped(
    place: Surroundings, material: WrapMaterial, draws: Draws, parameters: Parameters
) -> Surroundings:
    """The same place with a wrap between: air under it, its shine, and what vapour it lets through."""
    fixed = parameters.fixed
    if material == WrapMaterial.FOIL:
        gap = 1.0 / parameters.priors["foil_gap"].at(draws.normal["foil_gap"])
        shine, tight = fixed["foil_emissivity"], np.full_like(gap, TIGHT)
    else:
        tight = 1.0 / parameters.priors["paper"].at(draws.normal["paper"])
        shine, gap = 1.0, np.full_like(tight, 1.0 / fixed["paper_gap"])
    return replace(
        place,
        emissivity=place.emissivity * shine,
        radiant=place.radiant * shine,
        gap_m2k_w=gap,
        wrap_m2s_kg=tight,
    )


def after_pull(cook: Cook, rest: Rest, draws: Draws, parameters: Parameters, pressure: float) -> Surroundings:
    """The rest: open air of the room, a closed insulated box, or a hot hold; a wrap stays on."""
    fixed = parameters.fixed
    like = np.ones_like(draws.mass)
    room = fixed["room_c"] * like
    if rest.place == "cooler":
        box = parameters.priors["box"].at(draws.normal["box"])
        place = _bare(box, room, fixed["room_humidity"] * like, parameters, pressure)
        return replace(place, wrap_m2s_kg=np.full_like(like, TIGHT))
    if rest.place == "room":
        still = still_h(grown(cook.cut.size, cook.mass_kg).thickness_m, fixed)
        place = _bare(still * like, room, fixed["room_humidity"] * like, parameters, pressure)
    elif rest.place == "hold":
        air = (fixed["hold_c"] if rest.hold_c is None else rest.hold_c) * like
        damp = _hold_humidity(rest, air, fixed, pressure)
        place = _bare(fixed["hold_h"] * like, air, damp, parameters, pressure)
    else:
        raise CookingError(f"a rest is in the {', '.join(REST_PLACES)}; got {rest.place!r}")
    place.emissivity = parameters.priors["emissivity"].at(draws.normal["emissivity"])
    return wrapped(place, cook.wrap.material, draws, parameters) if cook.wrap else place


def still_h(thick_m: float, fixed: Mapping[str, float]) -> float:
    """What still air takes from a warm piece so thick, W/(m² K): h = 1.32 (ΔT / D)^¼.

    Source: simplified natural convection of a horizontal cylinder in air, laminar; any text, from memory.
    """
    return float(fixed["still_air"] * (fixed["still_k"] / thick_m) ** 0.25)


def _hold_humidity(rest: Rest, air_c: Floats, fixed: Mapping[str, float], pressure: float) -> Floats:
    """Humidity ratio of a hold, as set or as usual. Source: ASHRAE Fundamentals (2017) ch. 1, equation 20."""
    if rest.hold_humidity is None:
        return fixed["hold_humidity"] * np.ones_like(air_c)
    vapour = np.minimum(rest.hold_humidity * saturation_pa(air_c)[0], WETTEST * pressure)
    return np.asarray(WATER_TO_AIR * vapour / (pressure - vapour))


def _bare(
    h: Floats, air_c: Floats, humidity: Floats, parameters: Parameters, pressure: float
) -> Surroundings:
    """Air alone, no radiation; vapour transfer follows the air coefficient by the Lewis relation."""
    none = np.zeros_like(air_c)
    return Surroundings(
        h=h,
        emissivity=none,
        air_c=air_c,
        wall_k=air_c + ZERO_C_K,
        radiant=none,
        gap_m2k_w=none,
        vapour_pa=vapour_pa(humidity, np.full_like(air_c, pressure)),
        transfer=0.622 * h / (parameters.fixed["air_heat"] * parameters.fixed["lewis"]),
        wrap_m2s_kg=none,
    )
