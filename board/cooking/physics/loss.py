"""What a piece has lost of its raw mass: juice that left it, and fat that melted out."""

import numpy as np
from numpy.typing import NDArray

from board.cooking.physics.tenderness import pace
from board.cooking.solver.columns import Constants, Meat, State, whole

Floats = NDArray[np.float64]


def lost_share(state: State, meat: Meat, fixed: Constants) -> Floats:
    """The share of its raw mass each member has lost so far.

    Fat leaves as the collagen that holds it softens, so a quick roast keeps what a slow brisket sheds: each
    place has softened as long as the core, at its own pace. It is booked here alone: the heat it carries off
    is a hundredth of the meat's.
    """
    softened = state.tender * (pace(state.celsius) / pace(state.celsius[0]))
    rendered = meat.renders * -np.expm1(-softened / fixed.fat_time)
    return np.asarray(whole((state.expelled + state.boiled + rendered) * meat.volume) / meat.depth)
