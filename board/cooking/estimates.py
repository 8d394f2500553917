"""Estimates of many cooks by cook, where one that cannot be does not stop the others."""

from collections.abc import Sequence

from board.cooking.cook import Cook, Estimate
from board.cooking.errors import CookingError
from board.cooking.estimate import estimate


def estimates(
    cooks: Sequence[Cook], *, members: int, seed: int = 0, curves: bool = True
) -> dict[Cook, Estimate]:
    """One run of the ensemble for all; where one cannot be, each by itself and that one left out.

    `curves` adds members' paths, for readings to narrow; thin ends are left out.
    """
    distinct = list(dict.fromkeys(cooks))
    if not distinct:
        return {}
    try:
        found = estimate(distinct, members=members, seed=seed, curves=curves, thin_ends=False)
    except CookingError:
        alone = distinct if len(distinct) > 1 else []
        each = (estimates([cook], members=members, seed=seed, curves=curves) for cook in alone)
        return {cook: its for one in each for cook, its in one.items()}
    return dict(zip(distinct, found, strict=True))
