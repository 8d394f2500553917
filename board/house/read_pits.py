"""Reading pits.toml and holds.toml."""

from collections.abc import Mapping

from board.errors import HouseFileError
from board.house.library import PitPrior, pit_prior
from board.house.model import Hold, Pit, PitKind, Work
from board.house.read_calendar import read_recurrence
from board.house.read_steps import read_work
from board.house.read_zones import read_area, read_zones
from board.house.spans import Spread
from board.house.tables import Table

COOLEST_SETPOINT_C, HOTTEST_SETPOINT_C = 30.0, 400.0
DRIEST_AIR = 0.0001  # kg water a kg dry air; the air at -40 C holds this little
COOLEST_HOLD_C, HOTTEST_HOLD_C = 20.0, 150.0
LONGEST_DOOR_MINUTES, LONGEST_CHANGE_MINUTES = 60.0, 12 * 60.0


def read_pits(file: Table, cuts: Mapping[str, object]) -> dict[str, Pit]:
    """Every pit of pits.toml by id; what a pit does not say comes from its kind.

    Raises HouseFileError when there is none, and for a pit that takes an unknown cut.
    """
    pits = {row.id: _pit(row, cuts) for row in file.named()}
    file.done()
    if not pits:
        raise HouseFileError(f"{file.file}: found no pit, allowed one or more such as [north]")
    return pits


def read_holds(file: Table) -> dict[str, Hold]:
    """Every bench and hot hold of holds.toml by id."""
    holds = {row.id: _hold(row) for row in file.named()}
    file.done()
    return holds


def _pit(row: Table, cuts: Mapping[str, object]) -> Pit:
    kind = row.choice("kind", PitKind)
    prior = pit_prior(kind)
    zones = read_zones(row)
    area = read_area(row, zones)
    usual_rate = prior.fuel_kg_h_m2.usual * area
    pit = Pit(
        id=row.id,
        name=row.text("name", row.id.replace("-", " ").capitalize()),
        kind=kind,
        area_m2=area,
        setpoint_c=_setpoints(row, prior),
        warm_up_minutes=row.minutes("warm_up", prior.warm_up_minutes.usual),
        fuel=row.text("fuel", prior.fuel),
        fuel_kg_per_hour=row.mass_rate_kg_h("fuel_rate", usual_rate),
        fuel_price_per_kg=row.price_a_kg("fuel_price", 0.0),
        h_c_w_m2k=_numbers(row, "h_c", prior.h_c, 1, 100),
        humidity_ratio=_numbers(row, "humidity", prior.humidity, DRIEST_AIR, 1),
        control_band_c=row.difference_k("control_band", prior.control_band_c.usual),
        light_work=read_work(row, "light_work", Work(prior.light_minutes)),
        tend_fraction=row.fraction("tend", prior.tend_fraction),
        takes=frozenset(row.texts("takes")),
        out_of_use=tuple(read_recurrence(each) for each in row.tables("out")),
        zones=zones,
        door_minutes=_up_to(row, "door", prior.door_minutes, LONGEST_DOOR_MINUTES),
        change_over_minutes=_up_to(row, "change_over", prior.change_over_minutes, LONGEST_CHANGE_MINUTES),
    )
    row.done()
    if unknown := sorted(pit.takes - set(cuts)):
        raise row.refuse("takes", f"cuts of cuts.toml or the library, not {unknown[0]}")
    return pit


def _setpoints(row: Table, prior: PitPrior) -> tuple[float, float]:
    low, high = row.temperatures_c("setpoint", prior.setpoint_c)
    if not COOLEST_SETPOINT_C <= low <= high <= HOTTEST_SETPOINT_C:
        raise row.refuse("setpoint", "a lowest and a highest setpoint between 30 C and 400 C")
    return low, high


def _up_to(row: Table, key: str, default: float, most: float) -> float:
    minutes = row.minutes(key, default)
    if minutes > most:
        raise row.refuse(key, f"a time up to {most:g} min")
    return minutes


def _hold(row: Table) -> Hold:
    hold = Hold(
        id=row.id,
        name=row.text("name", row.id.replace("-", " ").capitalize()),
        area_m2=row.area_m2("area"),
        setpoint_c=row.temperature_c("setpoint") if row.has("setpoint") else None,
    )
    row.done()
    if hold.setpoint_c is not None and not COOLEST_HOLD_C <= hold.setpoint_c <= HOTTEST_HOLD_C:
        raise row.refuse(
            "setpoint", "what a hot hold keeps, between 20 C and 150 C; leave it out for a bench"
        )
    return hold


def _numbers(row: Table, key: str, default: Spread, low: float, high: float) -> Spread:
    def read(raw: object) -> Spread:
        if not isinstance(raw, list) or any(isinstance(n, bool) or not low <= n <= high for n in raw):
            raise ValueError(raw)
        return Spread(*map(float, raw))

    return row.value(key, default, read, f"three numbers from {low:g} to {high:g}: low, usual, high")
