"""`board demo`: the invented house, in a ledger of its own, with a clock that can be set."""

import json
import tempfile
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import click

from board.commands.options import screen_options
from board.errors import BoardError
from board.house.model import House
from board.house.years import ALLOWED, known_moment
from board.ledger.open import Ledger

HOUSE = "tallow_row"


@click.command("demo")
@click.option("--at", metavar="TIME", help="Set the clock: 12:15, or 2026-12-19T12:15 [05:40].")
@screen_options
def command(at: str | None, **_: object) -> int:
    """Open the invented house on the morning of its busiest day; nothing you do there is kept."""
    from board.app.clock import SetClock  # noqa: PLC0415 - help needs no house
    from board.commands.opening_up import open_up  # noqa: PLC0415
    from board.house.files import read_house  # noqa: PLC0415
    from board.house.seeds import seed_house  # noqa: PLC0415

    folder = seed_house(HOUSE)
    house = read_house(folder)
    with tempfile.TemporaryDirectory(prefix="board-demo-") as place:
        ledger, now = demo_ledger(Path(place) / "board.db", house, folder, at)
        with ledger:
            return open_up(ledger, house, SetClock(now))


def demo_ledger(path: Path, house: House, folder: Path, at: str | None) -> tuple[Ledger, datetime]:
    """A fresh ledger with the demo's plans and all that happened until its moment, and that moment."""
    from board.commands.night import read_night, record_night  # noqa: PLC0415
    from board.commands.night_told import Night  # noqa: PLC0415
    from board.ledger.open import create_ledger  # noqa: PLC0415
    from board.ledger.uptime import unknown  # noqa: PLC0415
    from board.planning.plan_json import from_json  # noqa: PLC0415

    told = read_night(folder)
    plans = [from_json(json.loads(f.read_text(encoding="utf-8"))) for f in sorted(folder.glob("plan-*.json"))]
    today = next((plan for plan in plans if plan.day == told["day"]), None)
    if today is None:
        raise BoardError(f"the demo's plan is missing: no plan-{told['day']}.json beside night.toml")
    now = _moment(at, told["opens"], house)
    ledger = create_ledger(path, house.name, house.zone, folder)
    ledger.uptime = unknown
    record_night(ledger, Night(house, today, told), [plan for plan in plans if plan is not today], now)
    return ledger, now


def _moment(at: str | None, opens: datetime, house: House) -> datetime:
    """When the demo's clock starts: as told, at a time of that day, or at a whole date and time."""
    zone = ZoneInfo(house.zone)
    if at is None:
        return opens.replace(tzinfo=zone)
    text = at.strip()
    try:
        moment = known_moment(text if len(text) > len("23:59:59") else f"{opens.date()}T{text.zfill(5)}")
    except ValueError:
        raise BoardError(
            f"--at: found '{at}', allowed a time such as 05:40 or 2026-12-19T12:15, {ALLOWED}"
        ) from None
    return moment if moment.tzinfo else moment.replace(tzinfo=zone)
