"""What was learned of a cut on a pit, as data."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from board.cooking.cook import PitAir
from board.cooking.learning.evenness import Evenness
from board.cooking.learning.evidence import LeftOut
from board.cooking.learning.learn import learn
from board.cooking.sampling import ONE_IN_TEN, departed_k, spread_at
from board.house.model import Cut, House, PitKind
from board.house.spans import Span

Floats = NDArray[np.float64]

UNTOLD = 0.85  # of its spread before any cook: an offset no narrower than this is not known


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
    cut_names: Mapping[str, str]


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
        cut_names={id: each.name for id, each in house.cuts.items()},
    )


def _ends(middle: float, sd: float) -> Floats:
    """The 10th percentile, middle and 90th of a departure."""
    return np.array([middle - ONE_IN_TEN * sd, middle, middle + ONE_IN_TEN * sd])
