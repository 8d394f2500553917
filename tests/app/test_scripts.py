"""The three people's scripts of docs/three_people.md, carried out on the demo by keys alone."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path

import pytest
from textual.pilot import Pilot

from board.app.app import BoardApp
from board.app.clock import StoppedClock
from board.app.planner import plan
from board.app.session import Session
from board.commands.demo import HOUSE, demo_ledger
from board.house.files import read_house
from board.house.seeds import seed_house
from tests.app.pictures import screen_text, settled

DOCUMENT = Path(__file__).parents[2] / "docs" / "three_people.md"
PLANNING_SECONDS = 1.0
NAMED = {
    "Enter": "enter", "Esc": "escape", "Tab": "tab", "Space": "space", "↑": "up", "↓": "down", "←": "left",
    "→": "right", "/": "slash", "?": "question_mark", "+": "plus", "-": "minus", "[": "left_square_bracket",
    "]": "right_square_bracket", "<": "less_than_sign", ">": "greater_than_sign", ":": "colon",
}  # fmt: skip
AT_MOST = {"mark": 2, "reading": 4, "sale": 3, "move a load": 6, "why is it late": 2}  # keys, by the job


@dataclass(frozen=True)
class Line:
    """A row of a script: keys, why they are pressed, and what the screen then says."""

    keys: tuple[str, ...]
    why: str
    says: tuple[str, ...]

    @property
    def job(self) -> str:
        """The job whose keys are counted, in bold in the text; empty for none."""
        found = re.search(r"\*\*(.+?)\*\*", self.why)
        return found[1] if found else ""


@dataclass(frozen=True)
class Script:
    """One person's script, who they are, and the moment and size of the screen it is played on."""

    title: str
    at: str
    who: str
    size: tuple[int, int]
    lines: tuple[Line, ...]


def scripts() -> Iterator[Script]:
    """The scripts of the document: a heading, a line `At TIME, as WHO, W by H`, and a table."""
    for part in re.split(r"^## ", DOCUMENT.read_text(encoding="utf-8"), flags=re.MULTILINE)[1:]:
        told = re.search(r"At ([\d:T-]+), as (\w+), on (\d+) by (\d+)", part)
        if told:
            rows = re.findall(r"^\| (.*?) \| (.+?) \| (.*?) \|$", part, flags=re.MULTILINE)[1:]
            lines = tuple(Line(_ticked(keys), why, _ticked(says)) for keys, why, says in rows)
            size = int(told[3]), int(told[4])
            yield Script(part.splitlines()[0], told[1], told[2], size, lines)


def _ticked(text: str) -> tuple[str, ...]:
    return tuple(re.findall(r"`(.+?)`", text))


ALL = tuple(scripts())


@pytest.mark.parametrize("script", ALL, ids=lambda script: script.title)
async def test_a_script_is_carried_out_by_keys_alone(script: Script, tmp_path: Path) -> None:
    """After each line's keys the screen says what the script promises."""
    folder = seed_house(HOUSE)
    house = read_house(folder)
    ledger, now = demo_ledger(tmp_path / "board.db", house, folder, script.at)
    with ledger:
        app = BoardApp(Session(ledger, house, StoppedClock(now), _quick, who=script.who))
        async with app.run_test(size=script.size) as pilot:
            await _rest(app, pilot)
            for line in script.lines:
                await pilot.press(*(NAMED.get(key, key) for key in line.keys))
                await _rest(app, pilot)
                shown = " ".join(screen_text(app).split())
                for words in line.says:
                    assert words in shown, (
                        f"{script.title}: after {line.keys} no '{words}' on\n{screen_text(app)}"
                    )


def _quick(wanted: object, better: object) -> object:
    return plan(wanted, better, seconds=PLANNING_SECONDS)  # type: ignore[arg-type]


async def _rest(app: BoardApp, pilot: Pilot[None]) -> None:
    """Wait for sums in the background, for a search that was begun, and for a plan to be laid open."""
    await settled(app, pilot)
    days = [app.facts.today + timedelta(days=ahead) for ahead in range(3)]
    while any(app.planning.word(day) for day in days) or "Laying the plan open" in screen_text(app):
        await pilot.pause(0.05)
    await settled(app, pilot)


@pytest.mark.parametrize("job", AT_MOST)
def test_a_job_takes_no_more_keys_than_it_may(job: str) -> None:
    """Each counted job is in the scripts, and each time within its keys."""
    counted = [len(line.keys) for script in ALL for line in script.lines if line.job == job]
    assert counted
    assert max(counted) <= AT_MOST[job]
