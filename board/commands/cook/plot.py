"""The core over the hours of a cook that is only asked about, drawn as the board draws a load's."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from board.commands.cook.taken import Taken
from board.cooking.cook import Cook, Estimate
from board.house.model import Display
from board.house.spans import TimeSpan
from board.views.chart import HEADROOM_K, Chart, Line, Moment, Read, Stretch, ahead_of
from board.views.chart_drawing import draw
from board.views.chart_words import Words
from board.views.progress import Risk

LOADED = datetime(2000, 1, 1, tzinfo=UTC)  # any moment: only what goes by after it is said
ROWS = 16
_MARGIN = timedelta(minutes=10)


def plot(cook: Cook, found: Estimate, taken: Taken, display: Display, width: int) -> list[str]:
    """The middle core from loading, the likely span of the pull, the stall, the wrap and the readings."""
    words = Words(ZoneInfo("UTC"), display, LOADED)
    return [line.text.rstrip() for line in draw(_chart(cook, found, taken), width, ROWS, words)]


def _chart(cook: Cook, found: Estimate, taken: Taken) -> Chart:
    course = _course(found)
    span = taken.revision or found.minutes
    pull = TimeSpan.after(LOADED, span)
    kept = tuple((_after(minute), core_c) for minute, core_c in taken.core.kept if minute > 0.0)
    reads = [Read(at, core_c) for at, core_c in kept]
    reads += [Read(_after(one.minute), one.core_c, counts=False) for one in taken.core.left_out]
    moments = [Moment(pull.p50, "pull")]
    if found.wrap_minutes:
        moments.append(Moment(_after(found.wrap_minutes.p50), "wrap", faint=True))
    stall = found.stall
    so_far: Line = ((LOADED, cook.start_c), *kept) if kept else ()
    return Chart(
        start=LOADED,
        end=max(pull.p90, *(read.at for read in reads), course[-1][0]) + _MARGIN,
        now=None,
        low_c=0.0,
        high_c=max(found.pulled_core_c.p50, cook.until_core_c) + HEADROOM_K,
        pull_c=cook.until_core_c,
        needed_at=None,
        risk=Risk.IN_TIME,
        so_far=so_far,
        reads=tuple(reads),
        course=course if kept else (),
        ahead=ahead_of(course, kept[-1] if kept else course[0], pull),
        stall=Stretch(_after(stall.from_minute), _after(stall.to_minute), "stall") if stall else None,
        moments=tuple(moments),
    )


def _course(found: Estimate) -> Line:
    """The middle core from loading to the middle pull."""
    assert found.curve is not None
    rows = zip(found.curve.minutes.tolist(), found.curve.core_p50.tolist(), strict=True)
    return tuple((_after(minute), core_c) for minute, core_c in rows if minute <= found.minutes.p50)


def _after(minute: float) -> datetime:
    return LOADED + timedelta(minutes=minute)
