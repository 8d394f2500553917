"""A case in a process of its own, which tells what it has reached as it goes, until its time is up."""

import json
import subprocess
import sys
from dataclasses import dataclass
from threading import Timer


@dataclass(frozen=True)
class Told:
    """What a case told, in order, and how it ended: "" where it came to its end."""

    events: tuple[dict, ...]
    broken: str

    def all(self, what: str) -> list[dict]:
        """Everything told of one kind."""
        return [event for event in self.events if event["what"] == what]

    def last(self, what: str) -> dict | None:
        """The latest told of one kind."""
        return next((event for event in reversed(self.events) if event["what"] == what), None)


def told_by(case: str, *, limit: float, **asked: object) -> Told:
    """Run a case of `cases.py` apart; after `limit` seconds it is ended, and what it told is all."""
    command = [sys.executable, "-m", "tests.bench.planning.cases", case, json.dumps(asked)]
    child = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    over = Timer(limit, child.kill)
    over.start()
    out, errors = child.communicate()
    ended_late = not over.is_alive()
    over.cancel()
    events = tuple(json.loads(line) for line in out.splitlines() if line.startswith("{"))
    if child.returncode == 0:
        return Told(events, "")
    last_line = (errors.strip().splitlines() or [f"ended with {child.returncode}"])[-1]
    return Told(events, f"not ended in {limit:.0f} s" if ended_late else last_line)
