"""When a probe that feeds was plainly in no meat: by what the sums leave out of its load, and by boiling."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime, timedelta
from itertools import pairwise

from board.ledger.state import Reading, ReadingKey
from board.views.proving import HOTTEST_CORE_C

Span = tuple[datetime, datetime]
Reasons = Mapping[ReadingKey, str]

JUDGED = timedelta(minutes=10)  # readings of a probe are left out of the sums by so long stretches
_ONE_SPELL = timedelta(minutes=10)  # what is wrong again so soon is one spell
_OFF_K = 4.0  # a core strays less than this from a straight course in so short a time; our choice
_TOO_HOT = "hotter than any core"


def why_out(one: Reading, reasons: Reasons) -> str:
    """Why a reading of a meat probe is plainly none of a core; empty where it may be one."""
    return reasons.get(one.key) or (_TOO_HOT if one.temperature_c > HOTTEST_CORE_C else "")


def wrong_spell(own: Iterable[Reading], reasons: Reasons) -> Span | None:
    """The last spell in which a meat probe was plainly in no meat, as the sums and boiling tell."""
    wrong = sorted(one.at for one in own if why_out(one, reasons))
    if not wrong:
        return None
    breaks = [after for before, after in pairwise(wrong) if after - before > _ONE_SPELL]
    return (breaks or wrong[:1])[-1], wrong[-1]


def edges(near: Sequence[Reading], spell: Span) -> Span:
    """A spell with the ends that its readings tell: from the first to the last that is far off their course.

    The sums leave readings out ten minutes at a time, so that it may begin later and end later. The course
    runs from the last reading before those minutes to the last of the ten after it, level where one lacks.
    """
    first, last = spell
    begins = first - timedelta(seconds=first.timestamp() % JUDGED.total_seconds())
    before = next((one for one in reversed(near) if one.at < begins), None)
    after = next((one for one in reversed(near) if last < one.at <= last + JUDGED), None)
    around = [one for one in near if begins <= one.at <= last + JUDGED]
    off = [one.at for one in around if _is_off(one, before, after)]
    return (off[0], off[-1]) if off and (before or after) else spell


def _is_off(one: Reading, before: Reading | None, after: Reading | None) -> bool:
    """Whether a reading is far off the line from one reading to another."""
    start, end = before or after, after or before
    if start is None or end is None:
        return False
    length = (end.at - start.at).total_seconds()
    part = (one.at - start.at).total_seconds() / length if length else 0.0
    line_c = start.temperature_c + part * (end.temperature_c - start.temperature_c)
    return abs(one.temperature_c - line_c) > _OFF_K


def out_now(own: Sequence[Reading], reasons: Reasons) -> tuple[datetime, str] | None:
    """Since when a probe is in no meat, and why that is plain; None where its last reading may be a core's.

    `own` are its readings of one load in the order of time.
    """
    spell = wrong_spell(own, reasons)
    if spell is None:
        return None
    since, until = edges(own, spell)
    if until < own[-1].at:
        return None
    return since, next(why for one in reversed(own) if (why := why_out(one, reasons)))
