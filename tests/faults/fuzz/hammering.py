"""Feeding spoilt input for as long as is asked, and keeping whatever broke."""

import signal
import time
import traceback
from collections import Counter
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from pathlib import Path
from random import Random
from types import FrameType

from tests.faults.fuzz.spoiling import Spoiler
from tests.faults.fuzz.targets import Target

PATIENCE_SECONDS = 30.0  # an input that is not done with by then holds a person up


class HeldUp(BaseException):
    """An input took longer than anybody waits; no handler of errors takes it for one."""


@dataclass
class Row:
    """What became of the inputs of one target."""

    inputs: int = 0
    seconds: float = 0.0
    slowest: float = 0.0
    broke: Counter[str] = field(default_factory=Counter)


def hammer(targets: Sequence[Target], borrowed: Sequence[str], inputs: int, seed: int) -> dict[str, Row]:
    """Feed so many spoilt inputs; what broke is counted by where it did."""
    random = Random(seed)
    spoiler = Spoiler(random, borrowed)
    rows = {target.name: Row() for target in targets}
    shares = [target.share for target in targets]
    with suppress(KeyboardInterrupt):  # what was found till then is told
        for target in random.choices(targets, shares, k=inputs):
            _feed(target, spoiler, rows[target.name])
    return rows


def _feed(target: Target, spoiler: Spoiler, row: Row) -> None:
    begun = time.perf_counter()
    try:
        with _patience():
            target.feed(spoiler)
    except (Exception, HeldUp) as error:
        row.broke[where(error)] += 1
    took = time.perf_counter() - begun
    row.inputs += 1
    row.seconds += took
    row.slowest = max(row.slowest, took)


@contextmanager
def _patience() -> Iterator[None]:
    def end(_: int, __: FrameType | None) -> None:
        raise HeldUp

    before = signal.signal(signal.SIGALRM, end)
    signal.setitimer(signal.ITIMER_REAL, PATIENCE_SECONDS)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0)
        signal.signal(signal.SIGALRM, before)


def where(error: BaseException) -> str:
    """What broke and the last line of the board that was under way."""
    frames = traceback.extract_tb(error.__traceback__)
    ours = [frame for frame in frames if "/board/" in frame.filename] or list(frames)
    at = f"{Path(ours[-1].filename).name}:{ours[-1].lineno}"
    return f"{type(error).__name__} at {at}: {str(error)[:80]!a}"
