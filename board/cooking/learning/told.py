"""What was learned of a cut on a pit, as data and in plain sentences."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from board.cooking.cook import PitAir
from board.cooking.learning.evenness import Evenness
from board.cooking.learning.evidence import LeftOut
from board.cooking.learning.learn import Learned
from board.cooking.sampling import ONE_IN_TEN, departed_k, spread_at
from board.house.model import Display
from board.house.spans import Span
from board.house.wording import count, short_day

UNTOLD = 0.85  # of its spread before any cook: an offset no narrower than this is not known
AS_USUAL = 0.02  # a ratio nearer to one is not worth a word
SHOWN = 3  # of the cooks left out


@dataclass(frozen=True, slots=True)
class Lesson:
    """What a house's cooks teach of a cut on a pit.

    `h_ratio` is its heat transfer against what is usual for such a pit, `offset_c` its air less its setpoint,
    K; `dial_told` says whether the cooks tell that offset at all.
    """

    cooks: int
    cooks_of_pit: int
    cooks_of_cut: int
    cooks_of_both: int
    h_ratio: Span
    offset_c: Span
    dial_told: bool
    evenness: Evenness | None
    left_out: tuple[LeftOut, ...]


def lesson(learned: Learned, cut: str, pit: str, air: PitAir) -> Lesson:
    """What was learned of a cut on a pit of that id and air; the prior where there is no history."""
    belief = learned.belief(cut, pit, air.kind)
    h, offset, told = (0.0, 1.0), (0.0, 1.0), False
    if belief is not None and learned.rows is not None:
        names, lasting = learned.rows.shares.names, learned.rows.shares.lasting
        sd = np.sqrt(np.diag(belief.covariance))
        i, j = names.index("h"), names.index("air")
        h, offset = (float(belief.mean[i]), float(sd[i])), (float(belief.mean[j]), float(sd[j]))
        told = float(sd[j]) < UNTOLD * float(np.sqrt(lasting[j]))
    at_h, at_air = (np.array([m - ONE_IN_TEN * s, m, m + ONE_IN_TEN * s]) for m, s in (h, offset))
    ratio = spread_at(air.h_c, at_h) / air.h_c.usual
    return Lesson(
        cooks=len(learned.cooks),
        cooks_of_pit=sum(cook.pit == pit for cook in learned.cooks),
        cooks_of_cut=sum(cook.cut == cut for cook in learned.cooks),
        cooks_of_both=sum((cook.pit, cook.cut) == (pit, cut) for cook in learned.cooks),
        h_ratio=Span(*ratio.tolist()),
        offset_c=Span(*departed_k(at_air, air).tolist()),
        dial_told=told,
        evenness=learned.evenness.get(pit),
        left_out=tuple(each for each in learned.left_out if pit == each.cook.pit or cut == each.cook.cut),
    )


def as_json(of: Lesson) -> dict[str, Any]:
    """The lesson for a JSON document."""
    return {
        "cooks": of.cooks,
        "cooks_of_pit": of.cooks_of_pit,
        "cooks_of_cut": of.cooks_of_cut,
        "cooks_of_both": of.cooks_of_both,
        "h_ratio": _span(of.h_ratio, 3),
        "offset_c": _span(of.offset_c, 1),
        "unevenness_c": None if of.evenness is None else _span(of.evenness.kelvin, 1),
        "unevenness_cooks": 0 if of.evenness is None else of.evenness.cooks,
        "left_out": [
            {"day": each.cook.day.isoformat(), "cut": each.cook.cut, "pit": each.cook.pit, "why": each.why}
            for each in of.left_out
        ],
    }


def sentences(of: Lesson, pit: str, kind: str, cut: str, display: Display) -> list[str]:
    """The lesson as a cook would say it; `pit` and `cut` are their names."""
    if not of.cooks:
        nothing = f"No finished cook teaches anything of {pit} yet: the span is that of any {kind} pit."
        return [nothing, *_left_out(of)]
    others = of.cooks - of.cooks_of_pit
    also = f", and {others} on other pits" if others else ""
    from_them = f"{count(of.cooks_of_pit, 'cook')} on {pit}, {of.cooks_of_both} of {cut}{also}"
    lines = [f"Learned from {from_them}: {_dial(of, pit, display)}; {_heat(of, kind)}."]
    if of.evenness is not None:
        apart = _degrees(of.evenness.kelvin.p50, display)
        lines.append(
            f"Its hottest and coldest place lie about {apart} apart, from {count(of.evenness.cooks, 'cook')}."
        )
    return [*lines, *_left_out(of)]


def _dial(of: Lesson, pit: str, display: Display) -> str:
    """How far the air lies from the setpoint."""
    if not of.dial_told:
        return f"how far {pit} runs from its dial its times do not tell: read its air"
    middle = of.offset_c.p50
    if abs(middle) < 1.0:
        return f"{pit} runs at its dial"
    return f"{pit} runs {_degrees(abs(middle), display)} {'over' if middle > 0 else 'under'} its dial"


def _heat(of: Lesson, kind: str) -> str:
    """How it heats, with its range."""
    ratio = of.h_ratio
    within = f"({_harder(ratio.p10)} to {_harder(ratio.p90)})"
    if abs(ratio.p50 - 1.0) < AS_USUAL:
        return f"it heats as {kind} pits usually do {within}"
    return f"it heats {_harder(ratio.p50)} than {kind} pits usually do {within}"


def _harder(ratio: float) -> str:
    """A ratio of heat transfer in words."""
    return f"{round(100 * abs(ratio - 1.0))} % {'harder' if ratio >= 1.0 else 'softer'}"


def _left_out(of: Lesson) -> list[str]:
    """The cooks that were not counted, and why; the first few of them."""
    shown = of.left_out[:SHOWN]
    lines = [f"Left out: {each.cook.cut} of {short_day(each.cook.day)}: {each.why}." for each in shown]
    more = len(of.left_out) - len(shown)
    return [*lines, f"{more} more left out."] if more else lines


def _degrees(kelvin: float, display: Display) -> str:
    """A difference of temperature in the house's degrees."""
    if display.temperature == "degF":
        return f"{round(1.8 * kelvin)} °F"
    return f"{round(kelvin)} °C"


def _span(span: Span, decimals: int) -> dict[str, float]:
    return {name: round(getattr(span, name), decimals) for name in ("p10", "p50", "p90")}
