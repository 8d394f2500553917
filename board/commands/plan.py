"""`board plan`: the plan for all services of a day."""

import json
import math
import sys
import time
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from board import __version__
from board.commands.plan_again import (
    differences_json,
    differences_lines,
    pin_from,
    pins_from,
    pins_json,
    plan_from,
    what_if_json,
    what_if_lines,
)
from board.errors import PlanError
from board.house.model import House
from board.planning.search.patience import SECONDS

if TYPE_CHECKING:
    from board.planning.plan import Plan
    from board.planning.replan.pin import Pin
    from board.planning.standing import Standing


class Number(click.FloatRange):
    """A number in a range; nan is none, for no comparison holds of it."""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> float:
        """The number; fails as click does for what is none."""
        number = float(super().convert(value, param, ctx))
        return self.fail(f"{value!r} is not a number.", param, ctx) if math.isnan(number) else number


@click.command("plan")
@click.argument("folder", metavar="[HOUSE]", type=click.Path(path_type=Path), required=False)
@click.option(
    "--day", metavar="DATE", help="The day, such as 2026-12-19; today or tomorrow. Default: tomorrow."
)
@click.option("--chance", type=Number(0.5, 0.99), help="Wanted chance of being ready, 0.5 to 0.99.")
@click.option(
    "--seconds",
    type=Number(0, 600),
    default=SECONDS,
    show_default=True,
    help="How long to look for a better plan.",
)
@click.option(
    "--seed",
    type=click.IntRange(0, 2**31 - 1),
    default=0,
    show_default=True,
    help="Same house, day and seed: same plan.",
)
@click.option(
    "--now",
    "now_text",
    metavar="TIME",
    help="Plan nothing before this moment: 14:00 on that day, or 2026-12-18T14:00-06:00.",
)
@click.option(
    "--around",
    multiple=True,
    type=click.Path(path_type=Path),
    metavar="PLAN.json",
    help="A plan that stands, of another day: leave its loads and people alone. May be repeated.",
)
@click.option(
    "--keep",
    type=click.Path(path_type=Path),
    metavar="PLAN.json",
    help="The plan in force: change it as little as helps, and tell what changes.",
)
@click.option(
    "--pin",
    "pin_texts",
    multiple=True,
    metavar="LOAD=PIT@TIME",
    help="Hold a load of the kept plan there, and plan around it. May be repeated.",
)
@click.option(
    "--move", "move_text", metavar="LOAD=PIT@TIME", help="Only tell what moving a load of the kept plan does."
)
@click.option("--pieces", type=click.IntRange(1), help="With --move, or one --pin: so many pieces of it.")
@click.option("--why", is_flag=True, help="Give the account of every load.")
@click.option("--json", "as_json", is_flag=True, help="Print the plan as one JSON document.")
def command(
    *,
    folder: Path | None,
    day: str | None,
    chance: float | None,
    seconds: float,
    seed: int,
    now_text: str | None,
    around: tuple[Path, ...],
    keep: Path | None,
    pin_texts: tuple[str, ...],
    move_text: str | None,
    pieces: int | None,
    why: bool,
    as_json: bool,
) -> int:
    """Plan the pits for all services of a day, the night before included.

    HOUSE is a folder of house files; without one, this folder's, or else the demo house. Ends with 1
    when something will be short.
    """
    from board.house.files import read_house  # noqa: PLC0415 - help needs no house

    house = read_house(_house_folder(folder))
    asked = _the_day(house, day=day, now_text=now_text, around=around, keep=keep)
    if pin_texts and move_text:
        raise PlanError("--pin: not together with --move, which plans nothing")
    if move_text or (pieces and not pin_texts):
        return _move(asked, move_text or "", pieces=pieces, as_json=as_json)
    pins = pins_from(pin_texts, asked.kept, house, pieces=pieces)
    began = time.perf_counter()
    plan = _planned(asked, pins, chance=chance, seconds=seconds, seed=seed)
    run = {"seconds": round(time.perf_counter() - began, 3), "version": __version__, "seed": seed}
    _print(asked, plan, pins, run=run if as_json else None, why=why)
    return 1 if plan.short else 0


@dataclass(frozen=True)
class _Asked:
    """A day to plan: what stands of it and of others, the plan it has, and from when on."""

    house: House
    day: date
    kept: "Plan | None"
    now: datetime | None
    standing: "Standing"


def _the_day(
    house: House, *, day: str | None, now_text: str | None, around: tuple[Path, ...], keep: Path | None
) -> _Asked:
    kept = plan_from(keep, "--keep", house) if keep else None
    when = kept.day if kept and day is None else _day(day, house)
    if kept and kept.day != when:
        raise PlanError(f"--keep: {keep} is a plan of {kept.day}; allowed is one of {when}")
    now = _now(now_text, when, house)
    return _Asked(house, when, kept, now, _standing(around, when, kept, house, now))


def _planned(
    asked: _Asked, pins: "Sequence[Pin]", *, chance: float | None, seconds: float, seed: int
) -> "Plan":
    """The plan, while a person who waits is told so."""
    from board.house.wording import day_name  # noqa: PLC0415
    from board.planning.planner import plan_day  # noqa: PLC0415

    if sys.stderr.isatty():
        click.echo(f"planning {day_name(asked.day)}, a few seconds…", err=True)
    return plan_day(
        asked.house,
        asked.day,
        chance=chance,
        seconds=seconds,
        seed=seed,
        now=asked.now,
        standing=asked.standing,
        committed=asked.kept,
        pins=pins,
    )


def _print(
    asked: _Asked, plan: "Plan", pins: "Sequence[Pin]", *, run: dict[str, Any] | None, why: bool
) -> None:
    """The page, or the document where there is a run to tell of."""
    from board.planning.plan_json import to_json  # noqa: PLC0415
    from board.planning.replan.differences import differences  # noqa: PLC0415
    from board.sheets.plan_sheet import plan_sheet  # noqa: PLC0415

    found = differences(asked.kept, plan, asked.house) if asked.kept else None
    if run is not None:
        more = {} if found is None else {"differences": differences_json(found, plan.zone)}
        more |= {"pins": pins_json(pins, plan.zone)} if pins else {}
        click.echo(json.dumps({**to_json(plan), **more, "run": run}, ensure_ascii=False, indent=1))
        return
    changed = "" if found is None else differences_lines(found)
    page = plan_sheet(plan, asked.house, why=why, pinned=frozenset(pin.load for pin in pins))
    click.echo(page + changed, nl=False)


def _move(asked: _Asked, text: str, *, pieces: int | None, as_json: bool) -> int:
    """Tell what a move would do; 1 where it breaks a rule."""
    from board.planning.replan.desk import desk_of  # noqa: PLC0415
    from board.planning.replan.what_if import what_if  # noqa: PLC0415

    if not text:
        raise PlanError("--pieces: needs --move LOAD=PIT@TIME, or --pin LOAD=PIT@TIME")
    house, kept = asked.house, asked.kept
    pin = pin_from(text, kept, house, "--move")
    assert kept is not None
    tried = what_if(desk_of(house, kept, now=asked.now, standing=asked.standing), pin, pieces=pieces)
    if as_json:
        click.echo(json.dumps(what_if_json(tried, kept.zone), ensure_ascii=False, indent=1))
    else:
        click.echo(what_if_lines(tried, house), nl=False)
    return 1 if tried.broken else 0


def _house_folder(folder: Path | None) -> Path:
    from board.house.seeds import seed_house  # noqa: PLC0415

    if folder is not None:
        return folder
    here = Path.cwd()
    return here if (here / "house.toml").is_file() else seed_house("tallow_row")


def _standing(
    around: tuple[Path, ...], day: date, kept: "Plan | None", house: House, now: datetime | None
) -> "Standing":
    """The loads, steps and batches of plans that stand, and of the kept one what began before now."""
    from board.planning.replan.begun import begun_as_planned  # noqa: PLC0415
    from board.planning.standing import Standing, standing_of  # noqa: PLC0415

    plans = [plan_from(path, "--around", house) for path in around]
    for path, plan in zip(around, plans, strict=True):
        if plan.day == day:
            raise PlanError(f"--around: {path} is itself a plan of {day}; allowed are plans of other days")
    others = standing_of(plans)
    own = begun_as_planned(kept, now) if kept and now else Standing()
    return Standing(
        (*others.loads, *own.loads),
        (*others.steps, *own.steps),
        (*others.batches, *own.batches),
        draws=(*others.draws, *own.draws),
    )


def _day(text: str | None, house: House) -> date:
    from board.house.calendar import local  # noqa: PLC0415
    from board.house.years import day_meant  # noqa: PLC0415

    today = local(datetime.now(UTC), house).date()
    return today + timedelta(days=1) if text is None else day_meant(text, today)


def _now(text: str | None, day: date, house: House) -> datetime | None:
    """A moment with its offset, or a bare time of day on the planned day."""
    from board.house.calendar import at_time  # noqa: PLC0415
    from board.house.years import known_clock, known_moment  # noqa: PLC0415

    if text is None:
        return None
    wrong = (
        f"--now: found '{text}', allowed a time such as 2026-12-18T14:00-06:00, or 14:00 on the planned day"
    )
    try:
        if "T" not in text:
            return at_time(day, known_clock(text), house.zone)
        moment = known_moment(text)
    except ValueError:
        raise PlanError(wrong) from None
    if moment.tzinfo is None:
        return at_time(moment.date(), moment.time(), house.zone)
    return moment.astimezone(UTC)
