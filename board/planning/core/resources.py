"""Resources: so much at a time and no more, by a calendar."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from ortools.sat.python import cp_model

from board.planning.grid import stretches

Interval = cp_model.IntervalVar
Demand = tuple[Interval, int]


def never_more_than(
    model: cp_model.CpModel, capacity: int | NDArray[np.int64], demands: Sequence[Demand]
) -> None:
    """Demands at any one time stay within a capacity, given once or slot by slot.

    A capacity that changes is its most with what is missing taken up. One at a time is a disjunction.
    """
    if not demands:
        return
    there = np.atleast_1d(np.asarray(capacity, dtype=np.int64))
    most = int(there.max())
    missing = [
        (model.new_fixed_size_interval_var(begin, size, "missing"), most - left)
        for begin, size, left in stretches(there)
        if left < most
    ]
    wanted = [*demands, *missing]
    if most == 1 and all(amount == 1 for _, amount in wanted):
        model.add_no_overlap([interval for interval, _ in wanted])
    else:
        model.add_cumulative([interval for interval, _ in wanted], [amount for _, amount in wanted], most)
