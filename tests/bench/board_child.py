"""What the speed of the board is measured on: python -m tests.bench.board_child build|open|stall LEDGER.

`build` fills a ledger of the demo's house with years of history, the night before and a Saturday of 60 loads;
`open` is the board on it as the command opens it; `stall` is the planner at work beside the screen.
"""

import sys
from pathlib import Path

LOADS = 60
SIZE = (120, 36)
READINGS_A_DAY, MARKS_A_DAY = 110, 22  # 200,000 and 40,000 in five years
BEAT = 0.005
WATCHED_SECONDS = 8.0


def build(path: Path, days: int) -> None:
    """Years of history, the demo's night, and a crowded Saturday."""
    import json  # noqa: PLC0415 - opening the board must load no more than the command does
    from dataclasses import replace  # noqa: PLC0415
    from datetime import timedelta  # noqa: PLC0415
    from zoneinfo import ZoneInfo  # noqa: PLC0415

    from board.commands.demo import HOUSE  # noqa: PLC0415
    from board.commands.night import read_night, record_night  # noqa: PLC0415
    from board.commands.night_told import Night  # noqa: PLC0415
    from board.house.files import read_house  # noqa: PLC0415
    from board.house.seeds import seed_house  # noqa: PLC0415
    from board.ledger import write  # noqa: PLC0415
    from board.ledger.open import create_ledger  # noqa: PLC0415
    from board.planning.plan_json import from_json  # noqa: PLC0415
    from tests.bench.ledger import build as history  # noqa: PLC0415

    folder = seed_house(HOUSE)
    house, told = read_house(folder), read_night(folder)
    now = told["opens"].replace(tzinfo=ZoneInfo(house.zone))
    plans = [from_json(json.loads(f.read_text(encoding="utf-8"))) for f in sorted(folder.glob("plan-*.json"))]
    today = next(plan for plan in plans if plan.day == told["day"])
    with create_ledger(path, house.name, house.zone, folder) as ledger:
        first = now - timedelta(days=days + 30)
        history(ledger, days, READINGS_A_DAY * days, MARKS_A_DAY * days, first=first)
        record_night(ledger, Night(house, today, told), [plan for plan in plans if plan is not today], now)
        more = [
            replace(today.loads[n % len(today.loads)], id=f"more-{n}")
            for n in range(LOADS - len(today.loads))
        ]
        crowded = replace(today, loads=(*today.loads, *more))
        write.commit_plan(ledger, crowded, "bench", who="odile", at=now, noted_at=now)
    path.with_suffix(".now").write_text(now.isoformat(), encoding="utf-8")


def opened(path: Path) -> int:
    """The board as `board` opens it."""
    from datetime import datetime  # noqa: PLC0415

    import click  # noqa: PLC0415

    from board.app.clock import SetClock  # noqa: PLC0415
    from board.cli import root  # noqa: PLC0415
    from board.commands.open_board import house_of  # noqa: PLC0415
    from board.commands.opening_up import open_up  # noqa: PLC0415
    from board.ledger.open import open_ledger  # noqa: PLC0415

    now = datetime.fromisoformat(path.with_suffix(".now").read_text(encoding="utf-8"))
    with open_ledger(path) as ledger, click.Context(root):
        return open_up(ledger, house_of(ledger), SetClock(now))


async def stall(path: Path, keys: list[str]) -> list[float]:
    """How late the screen's own clock is, beat by beat, in seconds, after some keys."""
    import asyncio  # noqa: PLC0415
    import time  # noqa: PLC0415
    from datetime import datetime  # noqa: PLC0415

    from board.app.app import BoardApp, ready  # noqa: PLC0415
    from board.app.clock import SetClock  # noqa: PLC0415
    from board.app.planner import plan  # noqa: PLC0415
    from board.app.session import Session  # noqa: PLC0415
    from board.app.warming import hold_garbage  # noqa: PLC0415
    from board.commands.open_board import house_of  # noqa: PLC0415
    from board.ledger.open import open_ledger  # noqa: PLC0415
    from tests.app.pictures import settled  # noqa: PLC0415

    hold_garbage()  # as `board` does
    now = datetime.fromisoformat(path.with_suffix(".now").read_text(encoding="utf-8"))
    late: list[float] = []
    with open_ledger(path) as ledger:
        app = ready(BoardApp(Session(ledger, house_of(ledger), SetClock(now), plan, who="odile")))
        async with app.run_test(size=SIZE) as pilot:
            await settled(app, pilot)
            await pilot.press("2")
            await settled(app, pilot)
            end = time.perf_counter() + WATCHED_SECONDS
            for key in keys:
                await pilot.press(key)
            while (began := time.perf_counter()) < end:
                await asyncio.sleep(BEAT)
                late.append(time.perf_counter() - began - BEAT)
            await pilot.press("s")
    return late


def main() -> None:
    """Run what was asked for."""
    what, path, *rest = sys.argv[1:]
    if what == "build":
        build(Path(path), int(rest[0]))
    elif what == "open":
        sys.exit(opened(Path(path)))
    else:
        import asyncio  # noqa: PLC0415

        late = sorted(asyncio.run(stall(Path(path), rest)))
        print(late[-1], late[len(late) * 99 // 100], late[len(late) // 2])


if __name__ == "__main__":
    main()
