"""One tridiagonal solve for all members at once: loops over nodes, arrays over members."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Film:
    """The film's row of the step matrix, folded into the surface's.

    `divisor` is its diagonal, `pull` its slope with the surface temperature, `feed` the surface heat's
    slope with the film, each already times −γ dt where the matrix has it.
    """

    divisor: Floats
    pull: Floats
    feed: Floats


@dataclass(slots=True)
class Factored:
    """The factors of (capacity − γ dt J): Thomas's algorithm from the core out."""

    inverse: Floats
    carry: Floats
    back: Floats
    film: Film

    def solve(self, right: Floats, film_right: Floats) -> tuple[Floats, Floats]:
        """The rates of the nodes and of the film; `right` is overwritten by the former."""
        right[-1] += self.film.feed * film_right / self.film.divisor
        spare = np.empty_like(film_right)
        for i in range(1, len(right)):
            np.multiply(self.carry[i - 1], right[i - 1], out=spare)
            right[i] -= spare
        right *= self.inverse
        for i in range(len(right) - 2, -1, -1):
            np.multiply(self.back[i], right[i + 1], out=spare)
            right[i] -= spare
        return right, (film_right - self.film.pull * right[-1]) / self.film.divisor


def factored(below: Floats, diagonal: Floats, above: Floats, film: Film) -> Factored:
    """Factor a matrix given by its three diagonals (faces or nodes by members) and the film's row.

    `diagonal` and `above` are overwritten.
    """
    diagonal[-1] += film.feed * film.pull / film.divisor
    inverse, carry = np.empty_like(diagonal), np.empty_like(below)
    spare = np.empty_like(diagonal[0])
    np.divide(1.0, diagonal[0], out=inverse[0])
    for i in range(1, len(diagonal)):
        np.multiply(below[i - 1], inverse[i - 1], out=carry[i - 1])
        np.multiply(carry[i - 1], above[i - 1], out=spare)
        np.subtract(diagonal[i], spare, out=spare)
        np.divide(1.0, spare, out=inverse[i])
    above *= inverse[:-1]
    return Factored(inverse, carry, above, film)
