"""`board cook`: how long one cook takes."""

import json
from pathlib import Path
from time import perf_counter
from typing import TYPE_CHECKING, Any

import click

from board import __version__
from board.errors import QuantityError

if TYPE_CHECKING:
    from board.cooking.estimate import Cook, Estimate
    from board.cooking.readings.revise import Revision
    from board.house.model import Cut, Display, House, Wrap

USUAL_REST_MINUTES = 30.0
SEEN_CURVE_ROWS = 24


@click.command("cook")
@click.argument("cut", metavar="CUT")
@click.option(
    "--weight", metavar="MASS", help="One raw piece, such as 14 lb; the cut's usual weight if left out."
)
@click.option("--count", default=1, show_default=True, help="Pieces cooked together: the slowest decides.")
@click.option(
    "--pit", default="offset", show_default=True, metavar="KIND", help="A kind of pit, or a pit of HOUSE."
)
@click.option("--at", "at", metavar="SETPOINT", help="Pit air, such as 245 F; the cut's usual if left out.")
@click.option("--until", metavar="CORE", help="Core to pull at, such as 203 F; the cut's usual if left out.")
@click.option("--from", "start", metavar="CORE", help="Core when loaded, such as 4 C.")
@click.option("--wrap", type=click.Choice(["paper", "foil"]), help="Wrap on the pit.")
@click.option("--wrap-at", metavar="CORE", help="Core to wrap at, such as 160 F.")
@click.option("--rest", metavar="TIME", help="Rest after the pull, such as 1 h; half an hour if left out.")
@click.option(
    "--rest-in",
    type=click.Choice(["room", "cooler", "hold"]),
    default="room",
    show_default=True,
    help="Where.",
)
@click.option(
    "--reading", "readings", multiple=True, metavar="TIME=CORE", help='Such as "2h40=61 C"; repeatable.'
)
@click.option("--house", "folder", type=click.Path(path_type=Path), help="Folder of house files.")
@click.option("--members", default=200, show_default=True, help="Bodies in the ensemble.")
@click.option(
    "--seed",
    type=click.IntRange(0, 2**31 - 1),
    default=0,
    show_default=True,
    help="Same seed, same answer.",
)
@click.option("--json", "as_json", is_flag=True, help="Print one JSON document and nothing else.")
def command(
    *,
    cut: str,
    readings: tuple[str, ...],
    folder: Path | None,
    members: int,
    seed: int,
    as_json: bool,
    **asked: Any,
) -> None:
    """How long CUT takes: its likely range, its stall, its loss and its core after the pull."""
    from board.cooking.estimate import estimate, revise  # noqa: PLC0415
    from board.cooking.possible import check_readings  # noqa: PLC0415

    began = perf_counter()
    house = _house(folder)
    cook = _cook(_cut(cut, house), house, **asked)
    taken = [_reading(text) for text in readings]
    check_readings(cook, taken)
    found = estimate([cook], members=members, seed=seed, curves=True)[0]
    revised = revise(found, taken) if taken else None
    if as_json:
        document = _document(cook, found, revised)
        document["run"] = {"seconds": round(perf_counter() - began, 3), "version": __version__}
        click.echo(json.dumps(document, ensure_ascii=False, indent=2))
    else:
        click.echo(_told(cook, found, revised, _display(house)))


def _house(folder: Path | None) -> "House | None":
    """The house asked for, or none."""
    if folder is None:
        return None
    from board.house.files import read_house  # noqa: PLC0415

    return read_house(folder)


def _cut(name: str, house: "House | None") -> "Cut":
    """The house's cut of that name, else the library's."""
    from board.house.library import library_cut  # noqa: PLC0415

    if house is not None and name in house.cuts:
        return house.cuts[name]
    return library_cut(name)


def _cook(
    cut: "Cut",
    house: "House | None",
    *,
    weight: str | None,
    count: int,
    pit: str,
    at: str | None,
    until: str | None,
    start: str | None,
    wrap: str | None,
    wrap_at: str | None,
    rest: str | None,
    rest_in: str,
) -> "Cook":
    """The cook a person typed, the cut's usual values standing in for what was left out."""
    from board.cooking.estimate import Cook, Rest  # noqa: PLC0415
    from board.house.units import parse_mass_kg, parse_minutes, parse_temperature_c  # noqa: PLC0415

    until_c = cut.pull_core_c if until is None else parse_temperature_c(until)
    return Cook(
        cut=cut,
        mass_kg=cut.mass_kg.usual if weight is None else parse_mass_kg(weight),
        pieces=count,
        pit=_air(pit, house),
        setpoint_c=cut.pit_c.usual if at is None else parse_temperature_c(at),
        until_core_c=until_c,
        start_c=cut.start_c if start is None else parse_temperature_c(start),
        wrap=_wrap(cut, wrap, wrap_at, until_c),
        rest=Rest(rest_in, USUAL_REST_MINUTES if rest is None else parse_minutes(rest)),
        altitude_m=0.0 if house is None else house.altitude_m,
    )


def _air(pit: str, house: "House | None") -> Any:
    """The air of a pit of the house by its id, else of a kind."""
    from board.cooking.estimate import PitAir  # noqa: PLC0415
    from board.house.model import PitKind  # noqa: PLC0415

    if house is not None and pit in house.pits:
        return PitAir.of(house.pits[pit])
    kinds = [kind.value for kind in PitKind]
    if pit not in kinds:
        known = f"; this house has {', '.join(house.pits)}" if house else ""
        raise click.UsageError(f"no kind of pit called '{pit}': allowed are {', '.join(kinds)}{known}")
    return PitAir.usual(PitKind(pit))


def _wrap(cut: "Cut", material: str | None, at_core: str | None, until_c: float) -> "Wrap | None":
    """The wrap asked for, at the cut's usual core unless one is given."""
    from board.house.model import Work, Wrap, WrapMaterial  # noqa: PLC0415
    from board.house.units import parse_temperature_c  # noqa: PLC0415

    if material is None:
        if at_core is not None:
            raise click.UsageError("--wrap-at needs --wrap paper or --wrap foil")
        return None
    usual_c = cut.wrap.at_core_c if cut.wrap else 71.0
    at_c = usual_c if at_core is None else parse_temperature_c(at_core)
    if at_c >= until_c:
        raise click.UsageError(f"a wrap at {at_c:.0f} °C comes after the pull at {until_c:.0f} °C")
    return Wrap(WrapMaterial(material), at_c, cut.wrap.work if cut.wrap else Work())


def _reading(text: str) -> tuple[float, float]:
    """Minutes from loading and core, °C, from a text such as `2h40=61 C`."""
    from board.house.units import parse_minutes, parse_temperature_c  # noqa: PLC0415

    time, equals, core = text.partition("=")
    if not equals:
        raise QuantityError(f"a reading is a time and a core such as 2h40=61 C; got {text!r}")
    return parse_minutes(time), parse_temperature_c(core)


def _display(house: "House | None") -> "Display":
    """The units to speak in."""
    from board.house.model import Display  # noqa: PLC0415

    return Display() if house is None else house.display


def _document(cook: "Cook", found: "Estimate", revised: "Revision | None") -> dict[str, Any]:
    """The promised document."""
    curve, stall = found.curve, found.stall
    assert curve is not None
    assert found.peak_after_pull_c is not None
    return {
        "cut": cook.cut.id,
        "weight_kg": round(cook.mass_kg, 3),
        "count": cook.pieces,
        "pit": cook.pit.kind.value,
        "setpoint_c": round(cook.setpoint_c, 2),
        "until_c": round(cook.until_core_c, 2),
        "minutes": _span(revised or found.minutes),
        "wrap_minutes": _span(found.wrap_minutes) if found.wrap_minutes else None,
        "warning": revised.warning if revised else None,
        "stall": stall
        and {
            "from_minute": round(stall.from_minute, 1),
            "to_minute": round(stall.to_minute, 1),
            "core_c": round(stall.core_c, 1),
        },
        "loss_percent": _span(found.loss_percent),
        "peak_after_pull_c": _span(found.peak_after_pull_c),
        "curve": [
            {
                "minute": round(float(minute), 1),
                "core_c": {"p10": round(p10, 1), "p50": round(p50, 1), "p90": round(p90, 1)},
                "surface_c": {"p50": round(surface, 1)},
            }
            for minute, p10, p50, p90, surface in zip(
                curve.minutes.tolist(),
                curve.core_p10.tolist(),
                curve.core_p50.tolist(),
                curve.core_p90.tolist(),
                curve.surface_p50.tolist(),
                strict=True,
            )
        ],
    }


def _span(span: Any) -> dict[str, float]:
    """A span as JSON."""
    return {"p10": round(span.p10, 1), "p50": round(span.p50, 1), "p90": round(span.p90, 1)}


def _told(cook: "Cook", found: "Estimate", revised: "Revision | None", display: "Display") -> str:
    """The answer in plain sentences."""
    from board.house.wording import duration  # noqa: PLC0415

    span = revised or found.minutes
    lines = [
        _asked(cook, display),
        f"{duration(span.p50)} most likely; between {duration(span.p10)} and {duration(span.p90)} "
        "in eight cooks of ten.",
    ]
    if cook.pieces > 1:
        lines.append("That is when the slowest piece is there.")
    if revised:
        lines.append(f"The whole cook's time, after your readings{_but(revised.warning)}.")
    return "\n".join([*lines, *_events(cook, found, display), "", *_drawing(found, display)])


def _asked(cook: "Cook", display: "Display") -> str:
    """The cook, as it was understood."""
    from board.house.units import format_mass, format_temperature  # noqa: PLC0415
    from board.house.wording import count  # noqa: PLC0415

    parts = [
        f"{count(cook.pieces, cook.cut.name)} of {format_mass(cook.mass_kg, display)}"
        + (" each" if cook.pieces > 1 else ""),
        f"{cook.pit.kind} pit at {format_temperature(cook.setpoint_c, display)}",
    ]
    if cook.wrap:
        parts.append(f"wrapped in {cook.wrap.material} at {format_temperature(cook.wrap.at_core_c, display)}")
    tender = " and tender" if cook.cut.tender_minutes else ""
    parts.append(f"to {format_temperature(cook.until_core_c, display)} in the core{tender}:")
    return ", ".join(parts)


def _events(cook: "Cook", found: "Estimate", display: "Display") -> list[str]:
    """Wrap, stall, loss and rest, a sentence each."""
    from board.house.units import format_temperature  # noqa: PLC0415
    from board.house.wording import duration  # noqa: PLC0415

    lines = []
    if wrap := found.wrap_minutes:
        lines.append(f"Wrap after {duration(wrap.p50)} ({duration(wrap.p10)} to {duration(wrap.p90)}).")
    if stall := found.stall:
        when = f"from {duration(stall.from_minute)} to {duration(stall.to_minute)}"
        lines.append(f"The core hardly rises {when}, near {format_temperature(stall.core_c, display)}.")
    loss = found.loss_percent
    lines.append(
        f"It loses {loss.p50:.0f} % of its mass in juice ({loss.p10:.0f} to {loss.p90:.0f} %), fat apart."
    )
    if (peak := found.peak_after_pull_c) and cook.rest:
        place = f"{duration(cook.rest.minutes)} of rest ({cook.rest.place})"
        lines.append(f"In {place} the core comes to {format_temperature(peak.p50, display)}.")
    return lines


def _but(warning: str | None) -> str:
    """A warning at the end of a sentence."""
    return f"; but {warning}" if warning else ""


def _drawing(found: "Estimate", display: "Display") -> list[str]:
    """The middle core over the hours, a bar a row."""
    from board.house.units import format_temperature  # noqa: PLC0415
    from board.house.wording import duration  # noqa: PLC0415

    curve = found.curve
    assert curve is not None
    minutes, cores = curve.minutes.tolist(), curve.core_p50.tolist()
    last = found.minutes.p50
    every = next(m for m in (5, 10, 15, 30, 60, 120, 240) if last / m <= SEEN_CURVE_ROWS)
    rows = []
    for k in range(int(last // every) + 1):
        core_c = _between(k * every, minutes, cores)
        bar = _bar(core_c / 100.0, 40)
        rows.append(f"{duration(k * every):>7}  {format_temperature(core_c, display):>6}  {bar}")
    return ["Core, in the middle of the range:", *rows]


def _between(x: float, xs: list[float], ys: list[float]) -> float:
    """The value at x on a line through evenly spaced points."""
    place = min(x / (xs[1] - xs[0]), len(xs) - 1.0)
    low = min(int(place), len(xs) - 2)
    return ys[low] + (place - low) * (ys[low + 1] - ys[low])


def _bar(share: float, width: int) -> str:
    """A bar in eighths of a character."""
    eighths = round(max(0.0, min(1.0, share)) * width * 8)
    return "█" * (eighths // 8) + ("", "▏", "▎", "▍", "▌", "▋", "▊", "▉")[eighths % 8]
