"""The inverse of all rows' covariance without ever factoring it whole.

Rows of alike cooks have all that lasts in common, and what is new with a load is shared by its own few rows
alone. So the covariance is D + Z A Z', D in blocks of a load, A as small as there are kinds of rows, and
Woodbury's identity (Golub & Van Loan, Matrix Computations, 4th edition, eq. 2.1.4) leaves little to invert.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Indices = NDArray[np.intp]


@dataclass(frozen=True, slots=True)
class Inverse:
    """The inverse of D + Z A Z'.

    `blocks` are the rows of loads of one size each, and the inverse of their part of D; `kind` is each row's
    place in A, `core` A (I + Z'D⁻¹Z A)⁻¹; `log_det` is of the whole.
    """

    blocks: tuple[tuple[Indices, Floats], ...]
    kind: Indices
    core: Floats
    log_det: float

    def times(self, right: Floats) -> Floats:
        """The inverse times columns, rows by columns."""
        alone = self._alone(right)
        shared = np.zeros((len(self.core), right.shape[1]))
        np.add.at(shared, self.kind, alone)
        return alone - self._alone((self.core @ shared)[self.kind])

    def diagonal(self) -> Floats:
        """Its diagonal."""
        found = np.empty(len(self.kind))
        for block, inverse in self.blocks:
            kinds = self.kind[block]
            shared = inverse @ self.core[kinds[:, :, None], kinds[:, None, :]] @ inverse
            found[block] = np.diagonal(inverse - shared, axis1=1, axis2=2)
        return found

    def _alone(self, right: Floats) -> Floats:
        """D⁻¹ times columns."""
        found = np.empty_like(right)
        for block, inverse in self.blocks:
            found[block] = inverse @ right[block]
        return found


def inverted(loads: Sequence[tuple[Indices, Floats]], kind: Indices, shared: Floats) -> Inverse:
    """The inverse of D, given as blocks of like size (loads by rows; loads by rows by rows), and A."""
    blocks = tuple((block, np.asarray(np.linalg.inv(part), dtype=float)) for block, part in loads)
    log_det = sum(float(np.linalg.slogdet(part)[1].sum()) for _, part in loads)
    inner = np.zeros_like(shared)
    for block, inverse in blocks:
        kinds = kind[block]
        np.add.at(inner, (kinds[:, :, None], kinds[:, None, :]), inverse)
    weighed = np.eye(len(shared)) + inner @ shared
    core = np.asarray(np.linalg.solve(weighed.T, shared).T, dtype=float)
    return Inverse(blocks, kind, core, log_det + float(np.linalg.slogdet(weighed)[1]))


def by_size(which: Indices) -> tuple[Indices, ...]:
    """The rows of each group, groups of one size together as groups by rows."""
    order = np.argsort(which, kind="stable")
    groups = np.split(order, np.flatnonzero(np.diff(which[order])) + 1)
    sizes = sorted({len(group) for group in groups})
    return tuple(np.array([group for group in groups if len(group) == size]) for size in sizes)
