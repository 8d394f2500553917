"""Reading cooks.csv: the loads a house wrote down before it had the board."""

from collections.abc import Mapping
from pathlib import Path

from board.errors import QuantityError
from board.house.library import PIECE_KG, usual_wrap_core_c
from board.house.model import Cut, Pit, WrapMaterial
from board.house.past import PastCook
from board.house.rows import Row, read_rows
from board.house.units import parse_mass_kg, parse_minutes, parse_temperature_c

COOK_COLUMNS = (
    "day",
    "cut",
    "pieces",
    "mass",
    "pit",
    "setpoint",
    "took",
    "core",
    "start",
    "wrap",
    "wrap_at",
    "first",
    "air",
)
NEEDED = ("day", "cut", "mass", "pit", "setpoint", "took")
MOST_COOKS = 5000
PIT_C, CORE_C = (30.0, 400.0), (-5.0, 130.0)
TOOK_MINUTES = (10.0, 7 * 24 * 60.0)
UNWRAPPED = "none"
WRAPS = (*(material.value for material in WrapMaterial), UNWRAPPED)

Wrapped = tuple[WrapMaterial | None, float | None, float | None]


def read_cooks(path: Path, cuts: Mapping[str, Cut], pits: Mapping[str, Pit]) -> tuple[PastCook, ...]:
    """The finished loads of a CSV file, a line each, in order of date; the last 5000 where there are more.

    Raises HouseFileError, naming file and line, for an unknown cut or pit and for what no cook can be.
    """
    rows = read_rows(path, COOK_COLUMNS, needed=NEEDED)
    cooks = sorted((_cook(row, cuts, pits) for row in rows), key=lambda cook: cook.day)
    return tuple(cooks[-MOST_COOKS:])


def _cook(row: Row, cuts: Mapping[str, Cut], pits: Mapping[str, Pit]) -> PastCook:
    cut = cuts[row.one_of("cut", cuts)]
    took = row.between("took", parse_minutes, TOOK_MINUTES, "a time such as 13 h 20, from 10 min to 7 days")
    core_c = _degrees(row, "core", CORE_C) if row.has("core") else None
    wrap, at_core_c, at_minute = _wrap(row, cut)
    _check_wrapped_before_the_end(row, took, core_c, at_core_c, at_minute)
    pieces = row.some("pieces", 1)
    return PastCook(
        day=row.date("day"),
        cut=cut.id,
        pit=row.one_of("pit", pits),
        pieces=pieces,
        mass_kg=row.between("mass", parse_mass_kg, PIECE_KG, "the mass of one piece such as 14 lb"),
        setpoint_c=_degrees(row, "setpoint", PIT_C),
        minutes=took,
        start_c=_degrees(row, "start", CORE_C, cut.start_c),
        core_c=core_c,
        wrap=wrap,
        wrap_core_c=at_core_c,
        wrap_minute=at_minute,
        first_minutes=_first(row, took, pieces) if row.has("first") else None,
        air_c=_degrees(row, "air", PIT_C) if row.has("air") else None,
    )


def _wrap(row: Row, cut: Cut) -> Wrapped:
    """In what, at which core and after how many minutes; as the house wraps the cut where nothing is said."""
    usual = cut.wrap.material.value if cut.wrap else UNWRAPPED
    said = row.one_of("wrap", WRAPS, usual)
    if said == UNWRAPPED:
        if row.has("wrap_at"):
            raise row.refuse("wrap_at", "nothing where nothing was wrapped")
        return None, None, None
    material = WrapMaterial(said)
    if not row.has("wrap_at"):
        return material, cut.wrap.at_core_c if cut.wrap else usual_wrap_core_c(), None
    core, minutes = row.quantity(
        "wrap_at", None, _core_or_time, "a core such as 160 F or a time such as 6 h 30"
    )
    return material, core, minutes


def _core_or_time(text: str) -> tuple[float | None, float | None]:
    """A core in °C, or minutes from loading."""
    try:
        return parse_temperature_c(text), None
    except QuantityError:
        return None, parse_minutes(text)


def _check_wrapped_before_the_end(
    row: Row, took: float, core_c: float | None, wrap_core_c: float | None, wrap_minute: float | None
) -> None:
    """A wrap that is written down went on before the piece came off."""
    if row.has("wrap_at") and core_c is not None and wrap_core_c is not None and wrap_core_c >= core_c:
        raise row.refuse("wrap_at", "a core below the one it came off at")
    if wrap_minute is not None and wrap_minute >= took:
        raise row.refuse("wrap_at", "a time shorter than the cook took")


def _first(row: Row, took: float, pieces: int) -> float:
    if pieces == 1:
        raise row.refuse("first", "nothing where one piece went on; say how many in pieces")
    return row.between("first", parse_minutes, (0.0, took), "a time no longer than the last piece took")


def _degrees(row: Row, column: str, within: tuple[float, float], default: float | None = None) -> float:
    allowed = f"a temperature such as 200 F, from {within[0]:g} C to {within[1]:g} C"
    return row.between(column, parse_temperature_c, within, allowed, default)
