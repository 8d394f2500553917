"""What was learned of a cut on a pit, as data and in plain sentences."""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from board.cooking.cook import PitAir
from board.cooking.learning.evenness import Evenness
from board.cooking.learning.evidence import LeftOut
from board.cooking.learning.learn import learn
from board.cooking.sampling import ONE_IN_TEN, departed_k, spread_at
from board.house.model import Cut, Display, House, PitKind
from board.house.spans import Span
from board.house.wording import count, short_day

Floats = NDArray[np.float64]

UNTOLD = 0.85  # of its spread before any cook: an offset no narrower than this is not known
AT_ITS_DIAL_K = 1.0
AS_USUAL = 0.02  # a ratio nearer to one is not worth a word
SHOWN = 3  # of the cooks left out


@dataclass(frozen=True, slots=True)
class Lesson:
    """What a house's cooks teach of a cut on a pit.

    `h_ratio` is its heat transfer against what is usual for such a pit, `offset_c` its air less its setpoint,
    K; `is_dial_told` says whether the cooks tell that offset at all.
    """

    cut: str
    pit: str
    kind: PitKind
    cooks: int
    cooks_of_pit: int
    cooks_of_cut: int
    cooks_of_both: int
    h_ratio: Span
    offset_c: Span
    is_dial_told: bool
    evenness: Evenness | None
    left_out: tuple[LeftOut, ...]


def lesson(house: House, cut: Cut, pit: str, air: PitAir) -> Lesson:
    """What was learned of a cut on a pit of that id, or on a new one; the prior where there is no history."""
    learned, own = learn(house), house.pits.get(pit)
    belief = learned.belief(cut.id, pit, air.kind)
    h, offset, is_dial_told = (0.0, 1.0), (0.0, 1.0), False
    if belief is not None and learned.rows is not None and learned.common is not None:
        names, lasting = learned.rows.shares.names, learned.common.unlike * learned.rows.shares.lasting
        sd = np.sqrt(np.diag(belief.covariance))
        i, j = names.index("h"), names.index("air")
        h, offset = (float(belief.mean[i]), float(sd[i])), (float(belief.mean[j]), float(sd[j]))
        is_dial_told = offset[1] < UNTOLD * float(np.sqrt(lasting[j]))
    ratio, kelvin = spread_at(air.h_c, _ends(*h)) / air.h_c.usual, departed_k(_ends(*offset), air)
    pairs = [(cook.pit, cook.cut) for cook in learned.cooks]
    return Lesson(
        cut=cut.name,
        pit=own.name if own else f"a new {air.kind} pit",
        kind=air.kind,
        cooks=len(pairs),
        cooks_of_pit=sum(on == pit for on, _ in pairs),
        cooks_of_cut=sum(of == cut.id for _, of in pairs),
        cooks_of_both=pairs.count((pit, cut.id)),
        h_ratio=Span(*ratio.tolist()),
        offset_c=Span(*kelvin.tolist()),
        is_dial_told=is_dial_told,
        evenness=learned.evenness.get(pit),
        left_out=tuple(each for each in learned.left_out if pit == each.cook.pit or cut.id == each.cook.cut),
    )


def lesson_document(of: Lesson) -> dict[str, Any]:
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


def sentences(of: Lesson, display: Display) -> list[str]:
    """The lesson as a cook would say it."""
    if not of.cooks:
        nothing = f"No finished cook teaches anything of {of.pit} yet: the span is that of any {of.kind} pit."
        return [nothing, *_left_out(of)]
    lines = [f"Learned from {_from(of)}: {_dial(of, display)}; {_heat(of)}."]
    if of.evenness is not None:
        apart = _degrees(of.evenness.kelvin.p50, display)
        told = count(of.evenness.cooks, "cook")
        lines.append(f"Its hottest and its coldest place lie about {apart} apart, from {told}.")
    return [*lines, *_left_out(of)]


def _from(of: Lesson) -> str:
    """How many cooks it is from."""
    if not of.cooks_of_pit:
        return f"{count(of.cooks, 'cook')}, none of them on {of.pit} and {of.cooks_of_cut} of {of.cut}"
    here = f"{count(of.cooks_of_pit, 'cook')} on {of.pit}, {of.cooks_of_both} of {of.cut}"
    elsewhere = of.cooks - of.cooks_of_pit
    return f"{here}, and {elsewhere} on other pits" if elsewhere else here


def _dial(of: Lesson, display: Display) -> str:
    """How far the air lies from the setpoint."""
    if not of.is_dial_told:
        return f"how far {of.pit} runs from its dial, times alone do not tell (read its air)"
    middle = of.offset_c.p50
    if abs(middle) < AT_ITS_DIAL_K:
        return f"{of.pit} runs at its dial"
    return f"{of.pit} runs {_degrees(abs(middle), display)} {'over' if middle > 0 else 'under'} its dial"


def _heat(of: Lesson) -> str:
    """How it heats, with its range."""
    ratio = of.h_ratio
    within = f"({_harder(ratio.p10)} to {_harder(ratio.p90)})"
    if abs(ratio.p50 - 1.0) < AS_USUAL:
        return f"it heats as {of.kind} pits usually do {within}"
    return f"it heats {_harder(ratio.p50)} than {of.kind} pits usually do {within}"


def _harder(ratio: float) -> str:
    """A ratio of heat transfer in words."""
    return f"{round(100 * abs(ratio - 1.0))} % {'harder' if ratio >= 1.0 else 'softer'}"


def _left_out(of: Lesson) -> list[str]:
    """The cooks that were not counted, and why; the first few of them."""
    shown = of.left_out[:SHOWN]
    lines = [f"Left out: {each.cook.cut} of {short_day(each.cook.day)}: {each.why}." for each in shown]
    more = len(of.left_out) - len(shown)
    return [*lines, f"And {more} more left out."] if more else lines


def _degrees(kelvin: float, display: Display) -> str:
    """A difference of temperature in the house's degrees."""
    if display.temperature == "degF":
        return f"{round(1.8 * kelvin)} °F"
    return f"{round(kelvin)} °C"


def _ends(middle: float, sd: float) -> Floats:
    """The 10th percentile, middle and 90th of a departure."""
    return np.array([middle - ONE_IN_TEN * sd, middle, middle + ONE_IN_TEN * sd])


def _span(span: Span, decimals: int) -> dict[str, float]:
    return {name: round(getattr(span, name), decimals) for name in ("p10", "p50", "p90")}
