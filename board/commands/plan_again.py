"""What `board plan` does with a plan that is kept: pins read, differences and a move told."""

import json
from collections.abc import Sequence
from dataclasses import asdict, replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any
from zoneinfo import ZoneInfo

from board.errors import HouseFileError, PlanError
from board.house.model import House
from board.house.text_file import read_text
from board.house.wording import nearest

if TYPE_CHECKING:
    from board.planning.plan import Plan, PlannedLoad
    from board.planning.replan.differences import Difference
    from board.planning.replan.pin import Pin
    from board.planning.replan.what_if import Place, WhatIf

_EXAMPLE = "LOAD=PIT@TIME, such as 1219-brisket-1=north@22:10, or 1219-brisket-1=north@22:10@250F"


def plan_from(path: Path, option: str, house: House) -> "Plan":
    """A plan of this house from its document.

    Raises:
        PlanError: names the option and the file.
    """
    from board.planning.plan_json import from_json  # noqa: PLC0415 - help needs no plan
    from board.planning.plan_kinds import wrong_in  # noqa: PLC0415

    try:
        plan = from_json(json.loads(read_text(path)))
    except HouseFileError as error:
        raise PlanError(f"{option}: {error}") from None
    except (ValueError, RecursionError, PlanError) as error:
        raise PlanError(f"{option}: {path} holds no plan that `board plan --json` wrote: {error}") from None
    if wrong := wrong_in(plan):
        raise PlanError(f"{option}: {path} holds no plan that `board plan --json` wrote: {wrong} is wrong")
    if plan.zone != house.zone:
        raise PlanError(f"{option}: {path} is a plan in {plan.zone}; allowed is one in {house.zone}")
    if plan.house != house.name:
        raise PlanError(f"{option}: {path} is a plan of {plan.house}; allowed is one of {house.name}")
    return plan


def pin_from(text: str, kept: "Plan | None", house: House, option: str) -> "Pin":
    """A pin as it is typed; a bare time is the one nearest to when the load goes on now.

    Raises:
        PlanError: names the option, what was found and what is allowed.
    """
    from board.planning.replan.pin import Pin  # noqa: PLC0415

    if kept is None:
        raise PlanError(f"{option}: needs --keep PLAN.json, the plan that has the load")
    name, equals, place = text.partition("=")
    where, at_sign, rest = place.partition("@")
    if not (equals and at_sign and name and where):
        raise PlanError(f"{option}: found '{text}', allowed is {_EXAMPLE}")
    load = next((load for load in kept.loads if load.id == name), None)
    if load is None:
        known = nearest(name, [load.id for load in kept.loads])
        raise PlanError(f"{option}: no load '{name}' in the plan that is kept; its loads are {known}")
    pit, _, zone = where.partition("/")
    time, _, setpoint = rest.partition("@")
    return Pin(name, pit, _moment(time, load, house, option), zone or None, _setpoint(setpoint, option))


def pins_from(
    texts: Sequence[str], kept: "Plan | None", house: House, *, pieces: int | None = None
) -> "list[Pin]":
    """The pins as they are typed, each load once; the pieces are those of the only one.

    Raises:
        PlanError: as for one pin, for a load pinned twice, and for pieces of several pins.
    """
    if pieces is not None and len(texts) > 1:
        raise PlanError("--pieces: says of one --pin how many pieces it holds; found several")
    pins = [replace(pin_from(text, kept, house, "--pin"), pieces=pieces) for text in texts]
    loads = [pin.load for pin in pins]
    twice = next((load for load in loads if loads.count(load) > 1), None)
    if twice is not None:
        raise PlanError(f"--pin: {twice} is pinned twice; allowed is once")
    return pins


def _setpoint(text: str, option: str) -> float | None:
    from board.errors import BoardError  # noqa: PLC0415
    from board.house.units import parse_temperature_c  # noqa: PLC0415

    try:
        return parse_temperature_c(text) if text else None
    except BoardError as error:
        raise PlanError(f"{option}: {error}") from None


def _moment(text: str, load: "PlannedLoad", house: House, option: str) -> datetime:
    from board.house.years import known_clock, known_moment  # noqa: PLC0415

    zone = ZoneInfo(house.zone)
    try:
        if "T" in text:
            moment = known_moment(text)
            return (moment if moment.tzinfo else moment.replace(tzinfo=zone)).astimezone(UTC)
        day, time = load.load_at.astimezone(zone).date(), known_clock(text)
    except ValueError:
        found = f"found '{text}', allowed a time such as 22:10 or 2026-12-18T22:10"
        raise PlanError(f"{option}: {found}; the whole is {_EXAMPLE}") from None
    days = [day + timedelta(days=n) for n in (-1, 0, 1)]
    near = [datetime.combine(d, time, zone).astimezone(UTC) for d in days]
    return min(near, key=lambda moment: abs(moment - load.load_at))


def pins_json(pins: "Sequence[Pin]", zone: str) -> list[dict[str, Any]]:
    """The pins a plan was made around, as data."""
    return [{**asdict(pin), "at": _stamp(pin.at, zone)} for pin in pins]


def differences_json(found: "tuple[Difference, ...]", zone: str) -> list[dict[str, Any]]:
    """Differences as data: when the crew must know, the sentence, the load."""
    return [{"at": _stamp(one.at, zone), "says": one.says, "load": one.load} for one in found]


def differences_lines(found: "tuple[Difference, ...]") -> str:
    """Differences as a block of the page."""
    if not found:
        return "\nNothing changes in the plan that is kept.\n"
    return "\n".join(["", "Changed from the plan that is kept", *(f"    {one.says}" for one in found), ""])


def what_if_json(tried: "WhatIf", zone: str) -> dict[str, Any]:
    """A load tried elsewhere, as data."""
    return {
        "load": tried.pin.load,
        "pieces": tried.pieces,
        "before": _place_json(tried.before, zone),
        "after": _place_json(tried.after, zone),
        "broken": [
            {"limit": one.limit, "at": _stamp(one.at, zone), "says": one.says} for one in tried.broken
        ],
    }


def _place_json(place: "Place", zone: str) -> dict[str, Any]:
    return {
        "pit": place.pit,
        "zone": place.zone,
        "setpoint_c": round(place.setpoint_c, 1),
        "load_at": _stamp(place.load_at, zone),
        "ready_at": _stamp(place.ready_at, zone),
        "spare_minutes_p50": round(place.spare_minutes, 1),
        "chance": round(place.chance, 4),
        "cost": round(place.cost, 2),
        "cost_parts": {name: round(points, 2) for name, points in asdict(place.costs).items()},
        "chances": {risk.service: round(risk.chance, 4) for risk in place.services},
    }


def what_if_lines(tried: "WhatIf", house: House) -> str:
    """A load tried elsewhere, before and after, and what it breaks."""
    lines = [f"{tried.pin.load}, {tried.pieces} pieces", _place_line("now", tried.before, house)]
    lines.append(_place_line("then", tried.after, house))
    lines += [f"  {line}" for line in _costs(tried)]
    lines += [f"  breaks: {one.says}" for one in tried.broken] or ["  breaks no rule"]
    return "\n".join(lines) + "\n"


def _costs(tried: "WhatIf") -> list[str]:
    """What the plan costs before and after, and each part of it that changes."""
    from board.planning.weights import in_money  # noqa: PLC0415

    before, after = asdict(tried.before.costs), asdict(tried.after.costs)
    changed = [
        f"{name} {in_money(before[name])} → {in_money(after[name])}"
        for name in before
        if in_money(before[name]) != in_money(after[name])
    ]
    whole = f"the plan costs {in_money(tried.before.cost)} → {in_money(tried.after.cost)}"
    return [whole, *(f"  {line}" for line in changed)]


def _place_line(word: str, place: "Place", house: House) -> str:
    from board.house.calendar import local  # noqa: PLC0415
    from board.house.units import format_temperature  # noqa: PLC0415
    from board.house.wording import clock_time, duration, short_day  # noqa: PLC0415

    pit = house.pits[place.pit].name + (f", {place.zone}" if place.zone else "")
    spare = place.spare_minutes
    sure = [f"{risk.service} {100 * risk.chance:.0f}" for risk in place.services]
    together = f" (all of {', '.join(sure)})" if sure else ""
    much = f"{duration(spare)} to spare" if spare >= 0 else f"{duration(-spare)} late"
    return (
        f"  {word:<5} {pit} at {clock_time(place.load_at, house)}"
        f" on {short_day(local(place.load_at, house).date())},"
        f" {format_temperature(place.setpoint_c, house.display)}; likely ready"
        f" {clock_time(place.ready_at, house)}, {much},"
        f" in time {100 * place.chance:.0f} times in 100{together}"
    )


def _stamp(moment: datetime, zone: str) -> str:
    return moment.astimezone(ZoneInfo(zone)).isoformat(timespec="seconds")
