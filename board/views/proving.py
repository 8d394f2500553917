"""What the readings of a load or a watch prove, by the rule that applies in the house's jurisdiction."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import datetime

from board.house.degrees import in_one_scale
from board.house.model import Cut, House
from board.house.spans import minutes_between
from board.ledger.facts import WatchFacts
from board.ledger.state import Reading, WatchKind
from board.planning.plan import PlannedLoad
from board.safety.cooked import cooked
from board.safety.cooling import cooled
from board.safety.handling import handled
from board.safety.holding import held_cold, held_hot
from board.safety.log import TemperatureLog
from board.safety.ovens import Oven
from board.safety.reheating import reheated
from board.safety.tempering import tempered
from board.safety.thawing import thawed
from board.safety.verdict import Verdict
from board.views.fed import Gap, coldest_of, gaps_in

EMPTY = TemperatureLog((), ())
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
    log = log_of(house, coldest_of(readings), core=True, gaps=gaps_in(house, readings)) or EMPTY
    handling = handled(cut, house.recipes)
    return worded(house, cooked(log, handling, place=house.jurisdiction, oven=_oven(load, cut)))


def _oven(load: PlannedLoad, cut: Cut) -> Oven:
    """What a roast was cooked in, its air taken as dry and still: nobody measured that it was not."""
    return Oven(load.setpoint_c, load.mass_kg / load.pieces if load.pieces else cut.mass_kg.usual)


def watch_verdict(house: House, watch: WatchFacts, readings: Sequence[Reading]) -> Verdict | None:
    """Whether a watch's readings show its rule kept; None where no rule of temperature runs."""
    judge = _JUDGES.get(watch.kind)
    log = log_of(house, readings, cold=watch.kind in _COLD) or EMPTY
    return worded(house, judge(log, place=house.jurisdiction)) if judge else None


def worded(house: House, verdict: Verdict) -> Verdict:
    """A verdict that tells its temperatures in the house's scale."""
    why, settle, rule = (
        in_one_scale(text, house.display) for text in (verdict.why, verdict.settle, verdict.rule)
    )
    return replace(verdict, why=why, settle=settle, rule=rule)
