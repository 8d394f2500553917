"""A program whose columns are whole numbers, bounded by branch and cut."""

import numpy as np
from ortools.math_opt.python import mathopt  # type: ignore[import-untyped]

from board.planning.bound.program import Program

# The solver works to a relative 1e-6 in floating point, and its bound is not recomputed here.
_SOLVER_ERROR = 1e-6


def whole(program: Program, *, seed: int) -> float:
    """What no point in whole numbers lies below; 0 where the solver says nothing.

    The search ends with its first node, after the cuts: by work and not by a clock.

    Args:
        seed: of the solver's own choices.
    """
    parameters = mathopt.SolveParameters(enable_output=False, node_limit=1, random_seed=seed)
    solved = mathopt.solve(_model(program), mathopt.SolverType.HIGHS, params=parameters)
    bound = solved.termination.objective_bounds.dual_bound
    return float(bound) * (1 - _SOLVER_ERROR) if np.isfinite(bound) else 0.0


def _model(program: Program) -> mathopt.Model:
    model = mathopt.Model()
    upper, cost = np.concatenate(program.upper), np.concatenate(program.cost)
    columns = [model.add_integer_variable(lb=0.0, ub=most) for most in upper.tolist()]
    for column, price in zip(columns, cost.tolist(), strict=True):
        model.objective.set_linear_coefficient(column, price)
    for inside, amounts, rhs, equal in zip(
        program.columns_of, program.amounts_of, program.rhs, program.equal, strict=True
    ):
        row = model.add_linear_constraint(lb=rhs if equal else -np.inf, ub=rhs)
        for column, amount in zip(inside.tolist(), amounts.tolist(), strict=True):
            row.set_coefficient(columns[column], amount)
    return model
