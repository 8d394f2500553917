"""The library of cuts, pit kinds and densities that house files start from.

The values and the source of each stand in data/cuts.toml, data/pit_kinds.toml and data/densities.toml.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Any

from board.errors import HouseFileError
from board.house.model import (
    Composition,
    Cut,
    Handling,
    PitKind,
    RecipeKind,
    Size,
    Work,
    Wrap,
    WrapMaterial,
    Yields,
)
from board.house.shipped import shipped
from board.house.spans import Spread

# the pit temperatures, °C, at which cuts.toml tells hours on the pit
HOURS_AT_C = (107.0, 121.0, 135.0)
PIECE_KG = (0.01, 150.0)  # beyond these a mass is a slip of the hand


@dataclass(frozen=True, slots=True)
class PitPrior:
    """What a pit of some kind is usually like, before the house has measured its own.

    `h_c` is the convective coefficient at the meat, W/m²K; `humidity` kg water a kg dry air;
    `fuel_kg_h_m2` fuel an hour a square metre of cooking area; `recovery_minutes` how long the air takes
    back to its setpoint after a lid was open; `tend_fraction` the share of a person's time its fire asks for;
    `door_minutes` what each opening costs the meat on it; `change_over_minutes` to another setpoint, lit.
    """

    kind: PitKind
    h_c: Spread
    humidity: Spread
    warm_up_minutes: Spread
    fuel: str
    fuel_kg_h_m2: Spread
    unevenness_c: Spread
    control_band_c: Spread
    recovery_minutes: Spread
    setpoint_c: tuple[float, float]
    light_minutes: float
    tend_fraction: float
    door_minutes: float
    change_over_minutes: float


def library_cut(id: str) -> Cut:
    """The library's cut of that name; raises HouseFileError naming the nearest when there is none."""
    cuts = library_cuts()
    if id not in cuts:
        raise HouseFileError(f"the library has no cut '{id}'; it has {', '.join(cuts)}")
    return cuts[id]


@cache
def library_cuts() -> Mapping[str, Cut]:
    """Every cut of the library by id, in the order of its table."""
    return MappingProxyType({id: _cut(id, row) for id, row in shipped("cuts").items()})


def practice_hours(id: str, pit_c: float) -> tuple[float, float]:
    """Shortest and longest hours on the pit that practice gives a library cut of its usual size.

    Between the table's 107, 121 and 135 °C by straight lines, beyond them the nearest.
    """
    library_cut(id)
    rows: list[list[float]] = shipped("cuts")[id]["practice"]["hours"]
    at = min(max(pit_c, HOURS_AT_C[0]), HOURS_AT_C[-1])
    above = next(i for i, c in enumerate(HOURS_AT_C) if at <= c)
    if HOURS_AT_C[above] == at:
        return rows[above][0], rows[above][1]
    share = (at - HOURS_AT_C[above - 1]) / (HOURS_AT_C[above] - HOURS_AT_C[above - 1])
    low, high = (a + share * (b - a) for a, b in zip(rows[above - 1], rows[above], strict=True))
    return low, high


@cache
def pit_prior(kind: PitKind) -> PitPrior:
    """What a pit of this kind is usually like."""
    row = shipped("pit_kinds")[kind.value]
    return PitPrior(
        kind=kind,
        h_c=_spread(row["h_c"]),
        humidity=_spread(row["humidity"]),
        warm_up_minutes=_spread(row["warm_up_minutes"]),
        fuel=row["fuel"],
        fuel_kg_h_m2=_spread(row["fuel_kg_h_m2"]),
        unevenness_c=_spread(row["unevenness_c"]),
        control_band_c=_spread(row["control_band_c"]),
        recovery_minutes=_spread(row["recovery_minutes"]),
        setpoint_c=(float(row["setpoint_c"]["low"]), float(row["setpoint_c"]["high"])),
        light_minutes=float(row["light_minutes"]["is"]),
        tend_fraction=float(row["tend_fraction"]["is"]),
        door_minutes=float(row["door_minutes"]["is"]),
        change_over_minutes=float(row["change_over_minutes"]["is"]),
    )


@cache
def densities() -> Mapping[str, float]:
    """Kilograms a litre by ingredient name, in lower case."""
    rows = shipped("densities").values()
    return MappingProxyType({name: float(row["density_kg_l"]) for row in rows for name in row["names"]})


def density_of(name: str) -> float | None:
    """Kilograms a litre of an ingredient by its name; None where it is not known."""
    return densities().get(name.strip().casefold())


def least_core_c(handling: str) -> float | None:
    """The least core temperature, °C, by handling (or cured-here); None when a rule says none."""
    row = shipped("least_core").get(handling)
    return None if row is None else float(row["core_c"])


def usual_keeping_minutes(kind: RecipeKind) -> float:
    """How long a batch of this kind keeps from the end of making, minutes, unless the house knows better."""
    return float(shipped("recipe_kinds")[kind.value]["keeps_minutes"])


def usual_wrap_core_c() -> float:
    """The core, °C, a piece is wrapped at where its cut is usually left open."""
    return float(shipped("wraps")["usual"]["core_c"])


def _cut(id: str, row: Mapping[str, Any]) -> Cut:
    practice = row["practice"]
    rest, pull = practice["rest_minutes"], practice["pull_core_c"]
    composition = row["composition"]
    return Cut(
        id=id,
        name=row["name"],
        animal=row["animal"],
        handling=Handling(row["handling"]["is"]),
        composition=Composition(
            **{k: composition[k] for k in ("water", "protein", "fat", "ash", "carbohydrate")}
        ),
        mass_kg=_spread(row["mass_kg"]),
        size=_size(row["size"]),
        area_m2=row["area_m2"]["is"],
        pit_c=Spread(*map(float, practice["pit_c"])),
        pull_core_c=float(pull[1]),
        wrap=_wrap(practice.get("wrap")),
        rest_minutes=(float(rest[0]), float(rest[1])),
        hold_longest_minutes=60.0 * practice["hold_longest_hours"],
        yields=_yields(row["yields"]),
        load_work=Work(*map(float, practice["load_work"])),
        pull_work=Work(*map(float, practice["pull_work"])),
        tender_minutes=float(practice["tender"]["minutes"]) if "tender" in practice else 0.0,
        tender_core_c=float(practice["tender"]["core_c"]) if "tender" in practice else None,
        pull_least_c=float(pull[0]),
        source="; ".join(f"{k}: {v['source']}" for k, v in row.items() if isinstance(v, dict)),
    )


def _size(row: Mapping[str, Any]) -> Size:
    equivalent, thin = row.get("equivalent_thickness_cm"), row.get("thin_end")
    return Size(
        at_kg=row["at_kg"],
        thickness_m=row["thickness_cm"] / 100,
        width_m=row["width_cm"] / 100,
        length_m=row["length_cm"] / 100,
        shape=row["shape"],
        scale=row["scale"],
        fill=row["fill"],
        equivalent_thickness_m=None if equivalent is None else equivalent / 100,
        thin_end_m=None if thin is None else thin["thickness_cm"] / 100,
    )


def _yields(row: Mapping[str, Any]) -> Yields:
    return Yields(
        Spread(*row["raw_to_trimmed"]), Spread(*row["trimmed_to_cooked"]), Spread(*row["cooked_to_served"])
    )


def _wrap(row: Mapping[str, Any] | None) -> Wrap | None:
    if row is None:
        return None
    return Wrap(WrapMaterial(row["material"]), float(row["at_core_c"]), Work(*map(float, row["work"])))


def _spread(row: Mapping[str, Any]) -> Spread:
    return Spread(float(row["low"]), float(row["usual"]), float(row["high"]))
