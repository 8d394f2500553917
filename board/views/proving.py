"""What the readings of a load or a watch prove, by the rule that applies in the house's jurisdiction.

Where a wrong clock wrote some of their times, a verdict is by the time that passed on the machine, if it
counted between all of them; else it is not shown, unless it fails whichever clock was right.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import datetime

from board.house.degrees import in_one_scale
from board.house.model import Cut, House
from board.house.spans import minutes_between
from board.house.wording import count, said_ahead
from board.ledger.facts import WatchFacts
from board.ledger.state import Reading, WatchKind
from board.planning.plan import PlannedLoad
from board.safety.cooked import cooked
from board.safety.cooling import cooled
from board.safety.doubtful_times import by_count, by_either
from board.safety.handling import handled
from board.safety.holding import held_cold, held_hot
from board.safety.log import TemperatureLog
from board.safety.ovens import Oven
from board.safety.reheating import reheated
from board.safety.tempering import tempered
from board.safety.thawing import thawed
from board.safety.verdict import Answer, Verdict
from board.views.fed import Gap, coldest_of, gaps_in

EMPTY = TemperatureLog((), ())
Judge = Callable[[Sequence[Reading]], Verdict]
_JUDGES: Mapping[WatchKind, Callable[..., Verdict]] = {
    WatchKind.COOLING: cooled,
    WatchKind.REHEATING: reheated,
    WatchKind.THAWING: thawed,
    WatchKind.TEMPERING: tempered,
    WatchKind.HOT_HOLD: held_hot,
    WatchKind.COLD_HOLD: held_cold,
}
_COLD = (WatchKind.COOLING, WatchKind.THAWING, WatchKind.TEMPERING, WatchKind.COLD_HOLD)
HOTTEST_CORE_C = 100.5  # water in the meat boils before any core is hotter: a slip of the scale or the probe


def log_of(
    house: House,
    readings: Iterable[Reading],
    *,
    core: bool = False,
    cold: bool = False,
    gaps: Sequence[Gap] | None = None,
) -> TemperatureLog | None:
    """Readings as a log from the first of them on; None where there are none.

    Of two at one moment the colder counts, of food to be `cold` the hotter. A core hotter than boiling
    water is taken as lost, and so is what a probe that feeds did not send while it was silent:
    `gaps`, where they are known.
    """
    readings = tuple(readings)
    at: dict[datetime, float | None] = {}
    worse = max if cold else min
    for reading in sorted(readings, key=lambda r: (r.at, r.seq)):
        seen = None if core and reading.temperature_c > HOTTEST_CORE_C else reading.temperature_c
        before = at.get(reading.at, seen)
        at[reading.at] = seen if before is None or seen is None else worse(before, seen)
    if not at:
        return None
    for start, end in gaps_in(house, readings) if gaps is None else gaps:
        at.setdefault(start + (end - start) / 2, None)
    at = dict(sorted(at.items()))
    first = min(at)
    minutes = tuple(minutes_between(first, moment) for moment in at)
    return TemperatureLog(minutes, tuple(at.values()), in_fahrenheit=house.display.temperature == "degF")


def cook_verdict(house: House, load: PlannedLoad, readings: Sequence[Reading]) -> Verdict | None:
    """Whether a load's cores show it cooked, by the rule its cut and handling fall under; rest included.

    None for a cut the house does not know.
    """
    cut = house.cuts.get(load.cut)
    if cut is None:
        return None
    handling, oven = handled(cut, house.recipes), _oven(load, cut)

    def judge(some: Sequence[Reading]) -> Verdict:
        log = log_of(house, coldest_of(some), core=True, gaps=gaps_in(house, some)) or EMPTY
        return cooked(log, handling, place=house.jurisdiction, oven=oven)

    found = proved(house, readings, judge)
    if not any(one.is_doubtful for one in readings) or found.answer is not Answer.NOT_SHOWN:
        return found
    at_once = _hot_at_once(readings, judge)
    return found if at_once is None else worded(house, replace(at_once, lethality_log10=None))


def _hot_at_once(readings: Sequence[Reading], judge: Judge) -> Verdict | None:
    """What a core shows that is hot enough at once, which needs no clock; None where none is.

    One read by hand does, or one of each probe that fed: of several in a load the coldest counts.
    """
    alone = {celsius: judge([one]) for celsius, one in {one.temperature_c: one for one in readings}.items()}
    hot = [one for one in readings if alone[one.temperature_c].answer is Answer.PASS]
    by_hand = [one for one in hot if one.probe is None]
    if not by_hand and {one.probe for one in hot} < {one.probe for one in readings if one.probe}:
        return None
    coldest = min(by_hand or hot, key=lambda one: one.temperature_c, default=None)
    return alone[coldest.temperature_c] if coldest else None


def _oven(load: PlannedLoad, cut: Cut) -> Oven:
    """What a roast was cooked in, its air taken as dry and still: nobody measured that it was not."""
    return Oven(load.setpoint_c, load.mass_kg / load.pieces if load.pieces else cut.mass_kg.usual)


def watch_verdict(house: House, watch: WatchFacts, readings: Sequence[Reading]) -> Verdict | None:
    """Whether a watch's readings show its rule kept; None where no rule of temperature runs."""
    judge = _JUDGES.get(watch.kind)
    if judge is None:
        return None
    cold, place = watch.kind in _COLD, house.jurisdiction
    return proved(house, readings, lambda some: judge(log_of(house, some, cold=cold) or EMPTY, place=place))


def proved(house: House, readings: Sequence[Reading], judge: Judge) -> Verdict:
    """What some readings prove by a rule, their doubtful times counted as far as they are known."""
    verdict = judge(readings)
    doubtful = [one for one in readings if one.is_doubtful]
    if doubtful and len(readings) > 1:
        says = _doubt(doubtful, len(readings))
        if _are_by_one_count(readings):
            verdict = by_count(verdict, says)
        else:
            fails = verdict.answer is Answer.FAIL and _fails_surely(readings, judge)
            verdict = by_either(verdict, says, _settles(doubtful), fails=fails)
    return worded(house, verdict)


def _are_by_one_count(readings: Sequence[Reading]) -> bool:
    """Whether one machine counted, within one boot, how much time passed between all of them."""
    boots = {one.timing.boot if one.timing else "" for one in readings}
    return len(boots) == 1 and "" not in boots


def _fails_surely(readings: Sequence[Reading], judge: Judge) -> bool:
    """Whether what fails as it counts does so whichever clock was right.

    One reading that fails by itself needs no clock. Else all doubtful ones are of one wrong clock, and it
    fails by the other times that clock may have meant too.
    """
    ends = (worst(readings, key=lambda one: one.temperature_c) for worst in (min, max))
    if any(judge([one]).answer is Answer.FAIL for one in ends):
        return True
    moved = {(one.written_at - one.at, one.or_at - one.at) for one in readings if one.is_doubtful}
    return len(moved) == 1 and judge([replace(one, at=one.or_at) for one in readings]).answer is Answer.FAIL


def _doubt(doubtful: Sequence[Reading], many: int) -> str:
    """Which of a rule's readings a wrong clock wrote, and how far it was off where that is known."""
    aheads = {said_ahead(one.written_at - one.at) if _is_known(one) else "" for one in doubtful}
    clock = f"a clock {aheads.pop()}" if len(aheads) == 1 and "" not in aheads else "a clock that was wrong"
    were = "was" if len(doubtful) == 1 else "were"
    return f"{len(doubtful)} of its {count(many, 'reading')} {were} written by {clock}"


def _settles(doubtful: Sequence[Reading]) -> str:
    """What settles doubtful times: those read by hand are put right together."""
    by_hand = [one for one in doubtful if one.probe is None]
    if not by_hand:
        return "readings by a clock that is right; what was fed by a wrong one can be struck"
    first = by_hand[0]
    when = "" if _is_known(first) else " --first TIME"
    return f"its times put right (board clock --put-right {first.seq}{when})"


def _is_known(one: Reading) -> bool:
    """Whether it is known how far the clock of a doubtful reading was off."""
    return one.or_at == one.written_at


def worded(house: House, verdict: Verdict) -> Verdict:
    """A verdict that tells its temperatures in the house's scale."""
    why, settle, rule = (
        in_one_scale(text, house.display) for text in (verdict.why, verdict.settle, verdict.rule)
    )
    return replace(verdict, why=why, settle=settle, rule=rule)
