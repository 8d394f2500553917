"""`board plan`: the plan for all services of a day."""

import json
import math
import sys
import time
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from board import __version__
from board.errors import PlanError
from board.house.model import House

if TYPE_CHECKING:
    from board.planning.plan import Plan
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
    default=3.0,
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
@click.option("--now", "now_text", metavar="TIME", help="Plan nothing before this moment.")
@click.option(
    "--around",
    multiple=True,
    type=click.Path(path_type=Path),
    metavar="PLAN.json",
    help="A plan that stands, of another day: leave its loads and people alone. May be repeated.",
)
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
    why: bool,
    as_json: bool,
) -> int:
    """Plan the pits for all services of a day, the night before included.

    HOUSE is a folder of house files; without one, this folder's, or else the demo house. Ends with 1
    when something will be short.
    """
    from board.house.files import read_house  # noqa: PLC0415 - help needs no house
    from board.house.wording import day_name  # noqa: PLC0415
    from board.planning.plan_json import to_json  # noqa: PLC0415
    from board.planning.planner import plan_day  # noqa: PLC0415
    from board.sheets.plan_sheet import plan_sheet  # noqa: PLC0415

    house = read_house(_house_folder(folder))
    when = _day(day, house)
    if sys.stderr.isatty():
        click.echo(f"planning {day_name(when)}, a few seconds…", err=True)
    began = time.perf_counter()
    plan = plan_day(
        house,
        when,
        chance=chance,
        seconds=seconds,
        seed=seed,
        now=_now(now_text, when, house),
        standing=_standing(around, when),
    )
    run = {"seconds": round(time.perf_counter() - began, 3), "version": __version__, "seed": seed}
    if as_json:
        click.echo(json.dumps({**to_json(plan), "run": run}, ensure_ascii=False, indent=1))
    else:
        click.echo(plan_sheet(plan, house, why=why), nl=False)
    return 1 if plan.short else 0


def _house_folder(folder: Path | None) -> Path:
    from board.house.seeds import seed_house  # noqa: PLC0415

    if folder is not None:
        return folder
    here = Path.cwd()
    return here if (here / "house.toml").is_file() else seed_house("tallow_row")


def _standing(around: tuple[Path, ...], day: date) -> "Standing":
    """The loads, steps and batches of plans that stand, read from their documents."""
    from board.planning.standing import standing_of  # noqa: PLC0415

    plans = [_plan_from(path) for path in around]
    for path, plan in zip(around, plans, strict=True):
        if plan.day == day:
            raise PlanError(f"--around: {path} is itself a plan of {day}; allowed are plans of other days")
    return standing_of(plans)


def _plan_from(path: Path) -> "Plan":
    from board.planning.plan_json import from_json  # noqa: PLC0415

    try:
        return from_json(json.loads(path.read_text(encoding="utf-8")))
    except (OSError, UnicodeDecodeError, json.JSONDecodeError, PlanError) as error:
        raise PlanError(f"--around: {path} holds no plan that `board plan --json` wrote: {error}") from None


def _day(text: str | None, house: House) -> date:
    from board.house.calendar import local  # noqa: PLC0415
    from board.house.years import day_meant  # noqa: PLC0415

    today = local(datetime.now(UTC), house).date()
    return today + timedelta(days=1) if text is None else day_meant(text, today)


def _now(text: str | None, day: date, house: House) -> datetime | None:
    """A moment with its offset, or a bare time of day on the planned day."""
    from datetime import time as clock  # noqa: PLC0415

    from board.house.calendar import at_time  # noqa: PLC0415
    from board.house.years import known_moment  # noqa: PLC0415

    if text is None:
        return None
    wrong = (
        f"--now: found '{text}', allowed a time such as 2026-12-18T14:00-06:00, or 14:00 on the planned day"
    )
    try:
        if "T" not in text:
            return at_time(day, clock.fromisoformat(text), house.zone)
        moment = known_moment(text)
    except ValueError:
        raise PlanError(wrong) from None
    if moment.tzinfo is None:
        return at_time(moment.date(), moment.time(), house.zone)
    return moment.astimezone(UTC)
