"""Whether a record shows food kept hot, or kept cold, all the while."""

from dataclasses import dataclass

from board.safety.log import Shown, Stretch, TemperatureLog, held, mirrored, slack_k, trusted_minutes
from board.safety.tables import Limit, rules, whose
from board.safety.verdict import Answer, Held, Verdict
from board.safety.wording import between, degrees_off, minutes_long


@dataclass(frozen=True, slots=True)
class _Kept:
    """A way of keeping food: its limit, and what is said of food on the wrong side of it."""

    food: str
    limit: Limit
    hot: bool
    put_right: str

    def limit_c(self, log: TemperatureLog) -> float:
        pick = self.limit.least_c if self.hot else self.limit.most_c
        return pick(in_fahrenheit=log.in_fahrenheit)

    def is_out(self, c: float, limit_c: float) -> bool:
        return c < limit_c - slack_k() if self.hot else c > limit_c + slack_k()

    def out(self, stretches: tuple[Stretch, ...], limit_c: float) -> Shown:
        """The longest time without a break on the wrong side: shown, and at most."""
        beyond = 2 * slack_k()  # what is exactly on the limit is within it
        if self.hot:
            return held(mirrored(stretches), beyond - limit_c)
        return held(stretches, limit_c + beyond)

    @property
    def rule(self) -> str:
        return f"{'at or above' if self.hot else 'at or below'} {self.limit}"


def held_hot(log: TemperatureLog, *, place: str = "us", charted_roast: bool = False) -> Verdict:
    """Whether food was kept hot; `charted_roast` if cooked by the roast chart."""
    limit = rules(place, "holding").limit("hot_roast_least" if charted_roast else "hot_least")
    again = (
        f"Reheat it at once to {rules(place, 'reheating').limit('least')}, or throw it away once it has been "
        f"below for {_longest_out(place, hot=True)}; note what was done."
    )
    return _kept(log, _Kept("held hot", limit, True, again), place)


def held_cold(log: TemperatureLog, *, place: str = "us") -> Verdict:
    """Whether food was kept cold."""
    limit = rules(place, "holding").limit("cold_most")
    again = (
        f"Chill it at once, or throw it away once it has been above for {_longest_out(place)}; "
        "note what was done."
    )
    return _kept(log, _Kept("held cold", limit, False, again), place)


def out_of_heat_minutes(place: str = "us") -> float:
    """How long food that was hot may be below its limit, time its only control, before it is thrown away."""
    rows = rules(place, "time_control").rows
    return float(rows.get("hot_most_minutes", rows["most_minutes"]))


def _longest_out(place: str, *, hot: bool = False) -> str:
    if hot:
        return minutes_long(out_of_heat_minutes(place))
    return minutes_long(float(rules(place, "time_control").rows["most_minutes"]))


def _kept(log: TemperatureLog, kept: _Kept, place: str) -> Verdict:
    rule = rules(place, "holding")
    limit_c = kept.limit_c(log)
    stretches = tuple(log.stretches(trusted_minutes("holding")))
    answer, why, settle = _judged(log, kept, limit_c, stretches)
    failed = (kept.put_right,) if answer is Answer.FAIL else ()
    whole_s = 60.0 * (log.readings[-1][0] - log.readings[0][0]) if log.readings else 0.0
    row = Held(kept.limit.c, round(held(stretches, limit_c).least_s, 3), round(whole_s, 3))
    return Verdict(
        food=kept.food,
        rule=kept.rule,
        answer=answer,
        why=why,
        source=rule.source,
        held=(row,) if kept.hot else (),
        cautions=(*failed, *whose(rule, place)),
        settle=settle,
    )


def _judged(
    log: TemperatureLog, kept: _Kept, limit_c: float, stretches: tuple[Stretch, ...]
) -> tuple[Answer, str, str]:
    """The answer, why, and what would settle it."""
    if not log.readings:
        return Answer.NOT_SHOWN, "The record has no reading.", f"a reading {kept.rule}"
    out = [c for _, c in log.readings if kept.is_out(c, limit_c)]
    if out:
        worst = min(out) if kept.hot else max(out)
        side = "below" if kept.hot else "above"
        longest = kept.out(stretches, limit_c)
        lasted = f", {side} {kept.limit} for {between(*longest)} on end" if longest.most_s > 0 else ""
        why = (
            f"{len(out)} of {len(log.readings)} readings {'is' if len(out) == 1 else 'are'} {side} "
            f"{kept.limit}; the worst is {degrees_off(worst, limit_c)}{lasted}."
        )
        return Answer.FAIL, why, ""
    lost = any(not stretch.trusted for stretch in stretches) or None in log.temperatures_c
    if lost:
        most = minutes_long(trusted_minutes("holding"))
        return (
            Answer.NOT_SHOWN,
            f"Every reading is {kept.rule}, but a stretch is without readings.",
            f"readings no further apart than {most}",
        )
    each = "The one reading is" if len(log.readings) == 1 else f"All {len(log.readings)} readings are"
    return Answer.PASS, f"{each} {kept.rule}.", ""
