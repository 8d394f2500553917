"""A linear program written row by row in arrays, and a bound read from its rounded prices.

min c·x with A x ≤ b (or = b) and 0 ≤ x ≤ u. For any prices y, not above 0 on the ≤ rows,
    y·b + Σ_j u_j · min(0, c_j − (Aᵀy)_j)
lies below the optimum (weak duality), whatever the solver did; so the bound is that sum, not what the
solver says it is.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray
from ortools.linear_solver.python import model_builder_helper as lp

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
# Prices are rounded to this many decimals before the bound is summed up, which then is off by less than:
_DECIMALS = 6
_SUM_ERROR = 1e-9


@dataclass(frozen=True)
class Solved:
    """A bound on the optimum, the prices it rests on, and the solver's own point where it has one."""

    bound: float
    prices: Floats
    values: Floats


@dataclass
class Program:
    """The rows and columns so far."""

    cost: list[Floats] = field(default_factory=list)
    upper: list[Floats] = field(default_factory=list)
    rhs: list[float] = field(default_factory=list)
    equal: list[bool] = field(default_factory=list)
    columns_of: list[Ints] = field(default_factory=list)
    amounts_of: list[Floats] = field(default_factory=list)
    width: int = 0

    def columns(self, cost: Floats, upper: Floats) -> Ints:
        """New columns with these costs and upper bounds; returns their numbers."""
        self.cost.append(cost)
        self.upper.append(upper)
        first, self.width = self.width, self.width + len(cost)
        return np.arange(first, self.width)

    def at_most(self, columns: Ints, amounts: Floats, rhs: float) -> int:
        """A row Σ amounts·x ≤ rhs; returns its number."""
        return self._row(columns, amounts, rhs, equal=False)

    def equals(self, columns: Ints, amounts: Floats, rhs: float) -> int:
        """A row Σ amounts·x = rhs; returns its number."""
        return self._row(columns, amounts, rhs, equal=True)

    def _row(self, columns: Ints, amounts: Floats, rhs: float, *, equal: bool) -> int:
        self.columns_of.append(columns)
        self.amounts_of.append(amounts)
        self.rhs.append(rhs)
        self.equal.append(equal)
        return len(self.rhs) - 1

    def solve(self, work: float) -> Solved:
        """Solve by the dual simplex, giving up after so much of the solver's own count of work."""
        cost, upper = _joined(self.cost), _joined(self.upper)
        helper = lp.ModelBuilderHelper()
        for price, most in zip(cost.tolist(), upper.tolist(), strict=True):
            column = helper.add_var()
            helper.set_var_upper_bound(column, most)
            helper.set_var_lower_bound(column, 0.0)
            helper.set_var_objective_coefficient(column, price)
        for columns, amounts, rhs, equal in zip(
            self.columns_of, self.amounts_of, self.rhs, self.equal, strict=True
        ):
            row = helper.add_linear_constraint()
            helper.set_constraint_lower_bound(row, rhs if equal else -np.inf)
            helper.set_constraint_upper_bound(row, rhs)
            for column, amount in zip(columns.tolist(), amounts.tolist(), strict=True):
                helper.add_term_to_constraint(row, column, amount)
        prices, values = _solved(helper, work)
        if len(prices) != len(self.rhs):
            prices, values = np.zeros(len(self.rhs)), np.zeros(self.width)
        return Solved(self.bound(prices), prices, values)

    def bound(self, prices: Floats) -> float:
        """What the optimum cannot lie below, at these prices of the rows."""
        y = np.round(prices, _DECIMALS)
        y[~np.array(self.equal, dtype=bool)] = np.minimum(0.0, y[~np.array(self.equal, dtype=bool)])
        rows = np.repeat(np.arange(len(y)), [len(columns) for columns in self.columns_of])
        columns, amounts = np.concatenate(self.columns_of), np.concatenate(self.amounts_of)
        priced = np.bincount(columns, weights=amounts * y[rows], minlength=self.width)
        gains = _joined(self.upper) * np.minimum(0.0, _joined(self.cost) - priced)
        parts = y * np.array(self.rhs)
        size = float(np.abs(parts).sum() + np.abs(gains).sum())
        return float(parts.sum() + gains.sum()) - _SUM_ERROR * size


def _joined(arrays: Sequence[Floats]) -> Floats:
    return np.concatenate(arrays) if arrays else np.zeros(0)


def _solved(helper: lp.ModelBuilderHelper, work: float) -> tuple[Floats, Floats]:
    solver = lp.ModelSolverHelper("GLOP")
    # the solver's preprocessing takes many times longer on these programs than solving them without
    solver.set_solver_specific_parameters(
        f"use_dual_simplex: true use_preprocessing: false max_deterministic_time: {work}"
    )
    solver.solve(helper)
    if not solver.has_solution():
        return np.zeros(0), np.zeros(0)
    return np.array(solver.dual_values()), np.array(solver.variable_values())
