"""One solve of the step's matrix for all members at once: loops over nodes, arrays over members.

The nodes are tridiagonal. The film is one row more, and every node's juice feeds it: folded into the
surface's row, that is a change of rank one (Sherman & Morrison 1950).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from board.cooking.solver.columns import whole

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Film:
    """The film's row of the step matrix.

    `divisor` is its diagonal, `pull` its slope with the surface temperature, `juice` what each node feeds
    it, `feed` the surface heat's slope with the film, each already times γ dt where the matrix has it.
    """

    divisor: Floats
    pull: Floats
    juice: Floats
    feed: Floats


@dataclass(slots=True)
class Rates:
    """A solved stage: the nodes' rates, the film's, and what the nodes' juice adds to it."""

    nodes: Floats
    film: Floats
    fed: Floats


@dataclass(slots=True)
class Factored:
    """The factors of (capacity − γ dt J): Thomas's algorithm from the core out, and the film's answer.

    `echo` is what one unit at the surface does to every node, `returned` the surface's heat a unit of
    juice fed, `whole` how much more juice that feeds.
    """

    inverse: Floats
    carry: Floats
    back: Floats
    film: Film
    echo: Floats
    returned: Floats
    more: Floats

    def solve(self, right: Floats, film_right: Floats) -> Rates:
        """The rates of a right side; it is overwritten by the nodes' rates."""
        film, spare = self.film, np.empty_like(film_right)
        right[-1] += film.feed * film_right / film.divisor
        for i in range(1, len(right)):
            np.multiply(self.carry[i - 1], right[i - 1], out=spare)
            right[i] -= spare
        right *= self.inverse
        for i in range(len(right) - 2, -1, -1):
            np.multiply(self.back[i], right[i + 1], out=spare)
            right[i] -= spare
        fed = whole(film.juice * right)
        right += self.echo * (fed * self.returned)
        fed *= self.more
        return Rates(right, (film_right - film.pull * right[-1] + fed) / film.divisor, fed)


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
    echo = _echo(inverse[-1], above)
    back = film.feed / film.divisor
    heard = whole(film.juice * echo)
    returned = back / (1.0 - back * heard)
    return Factored(inverse, carry, above, film, echo, returned, 1.0 + returned * heard)


def _echo(surface: Floats, back: Floats) -> Floats:
    """What a unit of heat at the surface does to every node."""
    echo = np.empty((len(back) + 1, surface.size))
    echo[-1] = surface
    for i in range(len(back) - 1, -1, -1):
        np.multiply(back[i], echo[i + 1], out=echo[i])
        np.negative(echo[i], out=echo[i])
    return echo
