"""Cooks timed elsewhere, as cooks of ours: charts, measured ovens, ranges of the trade."""

import tomllib
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from board.cooking.cook import Cook, PitAir, Rest
from board.cooking.physics.parameters import Parameters, parameters
from board.cooking.sampling import middle
from board.cooking.solver.course import constants, run
from board.cooking.solver.ensemble import ensemble, joined
from board.cooking.solver.running import Course, Trace
from board.house.library import library_cut, library_cuts, practice_hours
from board.house.model import PitKind, Size, Work, Wrap, WrapMaterial
from board.house.spans import Spread

TABLE = Path(__file__).with_name("published.toml")
FRIDGE_C = 4.0
STILL_H = 7.2  # published combined 19.25 W/(m² K) at 163 °C less radiation
FAN_H = 40.0  # the high end of fan ovens, 13–40 recalled
ROLL_HALF_M = 0.0783  # fitted to the three rolls together
DRAUGHTY_H = 20.0  # assumed: the high end of an offset pit, which the 99 °C brisket asks for


@dataclass(frozen=True)
class Row:
    """One published time: the cook it should be, and its minutes."""

    name: str
    cook: Cook
    minutes: float
    tolerance: float


@dataclass(frozen=True)
class Range:
    """A range of the trade: the cook and its hours from and to."""

    name: str
    cook: Cook
    hours: tuple[float, float]
    centre: bool


def air(kind: PitKind, h: float, humidity: float) -> PitAir:
    """Air known exactly."""
    return PitAir(kind, Spread(h, h, h), Spread(humidity, humidity, humidity), 0.0, 0.0)


OVEN = air(PitKind.OVEN, STILL_H, 0.02)
PIT = air(PitKind.OFFSET, 12.0, 0.035)


def published(roll_half: float = ROLL_HALF_M) -> list[Row]:
    """Every chart row and measured row; the turkey rolls at a half thickness (m)."""
    rows = []
    for family in tomllib.loads(TABLE.read_text(encoding="utf-8"))["family"]:
        for mass, minutes in family["rows"]:
            cook = Cook(
                library_cut(family["cut"]), mass, 1, OVEN, family["oven_c"], family["core_c"], FRIDGE_C
            )
            rows.append(Row(f"{family['name']}, {mass:.1f} kg", cook, minutes, family["tolerance"]))
    return [*rows, *rolls(roll_half), smoked()]


def rolls(half_m: float = ROLL_HALF_M) -> list[Row]:
    """Boneless turkey rolls in a fan oven; mass not published, so one thickness is fitted to all three.

    Source: J. Am. Diet. Assoc. 87(11):1521–5 (1987).
    """
    fan = air(PitKind.OVEN, FAN_H, 0.02)
    size = Size(1.0, 2 * half_m, 2 * half_m, 4.4 * half_m, "cyl", "isometric", 0.785)
    cut = replace(library_cut("turkey-breast"), id="turkey-roll", size=size)
    return [
        Row(f"turkey roll, {c:.0f} °C", Cook(cut, 1.0, 1, fan, c, 77.0, FRIDGE_C), minutes, 0.07)
        for c, minutes in ((105.0, 331.0), (135.0, 227.0), (165.0, 203.0))
    ]


def smoked() -> Row:
    """Briskets smoked at about 99 °C for 11 h to about 85 °C; their mass is assumed 5 kg.

    Source: Harris et al., Meat and Muscle Biology, and a trade article on the same work.
    """
    pit = air(PitKind.OFFSET, DRAUGHTY_H, 0.035)
    return Row("brisket, 99 °C", Cook(library_cut("brisket"), 5.0, 1, pit, 99.0, 85.0, FRIDGE_C), 660.0, 0.12)


def ranges() -> list[Range]:
    """The ranges of the trade that name a mass and a setpoint. Common practice, no source.

    What crews cook tender comes twice: to the core named, and until it is tender.
    """
    found = []
    for row in tomllib.loads(TABLE.read_text(encoding="utf-8"))["range"]:
        cook = Cook(library_cut(row["cut"]), row["mass_kg"], 1, PIT, row["pit_c"], row["core_c"], 5.0)
        hours = (row["hours"][0], row["hours"][1])
        found.append(Range(row["name"], cook, hours, row["centre"]))
        if cook.cut.tender_minutes:
            name = row["name"].rpartition(", to")[0] + ", until tender"
            found.append(Range(name, as_practised(cook), hours, row["centre"]))
    return found


def library_ranges() -> list[Range]:
    """The library's hours at three setpoints, for every cut at its usual size."""
    return [
        Range(
            f"{cut.id}, {c:.0f} °C",
            as_practised(Cook(cut, cut.mass_kg.usual, 1, PIT, c, PRACTICE_CORE_C[cut.id], 5.0)),
            practice_hours(cut.id, c),
            c == 121.0,
        )
        for cut in library_cuts().values()
        for c in (107.0, 121.0, 135.0)
    ]


def as_practised(cook: Cook) -> Cook:
    """A cook ended as crews end it: a cut that is cooked tender when it is, whatever its core was to be."""
    cut = cook.cut
    if cut.tender_minutes == 0.0:
        return cook
    return replace(cook, until_core_c=cut.end_core_c, tender_minutes=cut.tender_minutes)


# Cores to which the library's hours are told: common practice, no source.
PRACTICE_CORE_C = {
    "brisket": 93.0,
    "brisket-flat": 92.5,
    "beef-ribs": 95.0,
    "beef-rib-roast": 53.0,
    "beef-rib-roast-boneless": 53.0,
    "beef-round-roast": 56.0,
    "pork-shoulder": 93.0,
    "pork-shoulder-boned": 65.0,
    "pork-loin": 63.0,
    "spare-ribs": 93.0,
    "ham-bone-in": 60.0,
    "ham-boneless": 60.0,
    "lamb-leg": 60.0,
    "lamb-leg-boneless": 60.0,
    "lamb-shoulder": 90.0,
    "chicken-whole": 75.0,
    "chicken-half": 74.0,
    "turkey-whole": 74.0,
    "turkey-breast": 72.0,
    "sausage": 72.0,
}

CENTRE_BRISKET = Cook(library_cut("brisket"), 6.5, 1, PIT, 114.0, 95.0, 5.0)


def wrapped_brisket(material: str, at_c: float = 70.0, rest: Rest | None = None) -> Cook:
    """The centre brisket, wrapped."""
    return replace(CENTRE_BRISKET, wrap=Wrap(WrapMaterial(material), at_c, Work()), rest=rest)


def centre(cooks: list[Cook], using: Parameters | None = None, trace: Trace | None = None) -> Course:
    """One member a cook, everything at its middle."""
    chosen = using or parameters()
    return run(joined([ensemble(c, middle(chosen), chosen) for c in cooks]), constants(chosen), trace)


def minutes_at(trace: Trace, member: int, core_c: float) -> float:
    """When a traced member's rising core first passes a temperature."""
    seconds, core = np.array(trace.seconds)[:, member], np.array(trace.core)[:, member]
    known = ~np.isnan(core)
    return float(np.interp(core_c, np.maximum.accumulate(core[known]), seconds[known]) / 60.0)
