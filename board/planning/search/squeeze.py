"""What cannot be cooked whole, or not in time, is cooked in part: the most pieces that fit, then the rest."""

from collections.abc import Callable
from dataclasses import replace

from board.planning.doors import told_as
from board.planning.part_making import part_of
from board.planning.parts import Share, split
from board.planning.problem import Assignment, Frame, Part, Problem, late_points, points
from board.planning.search.insertion import cheapest_fit
from board.planning.search.occupancy import Fit, Occupancy
from board.planning.search.tidy import occupied

# Finds a part its place beside what is placed, if there is any it takes.
Fitting = Callable[[Occupancy, Part], Fit | None]


def squeeze(problem: Problem, plan: Assignment) -> tuple[Problem, Assignment]:
    """Place as many pieces as fit of each part left out, and cut a late one where that is cheaper.

    What is left over stays a part, late or unserved.
    """
    occupancy = occupied(problem, plan)
    bits: dict[str, list[Part]] = {}
    for part in problem.parts:
        at = plan.placed.get(part.id)
        if at is None and part.id not in problem.hopeless:
            bits[part.id] = _placed_bit_by_bit(occupancy, part, cheapest_fit)
        elif at is not None and part.kept is None and late_points(problem, part, at):
            bits[part.id] = _cut_if_cheaper(problem, occupancy, part)
    if occupancy.placed.keys() == plan.placed.keys():
        return problem, plan
    parts = tuple(bit for part in problem.parts for bit in bits.get(part.id, [part]))
    return replace(problem, parts=parts), occupancy.assignment()


def _cut_if_cheaper(problem: Problem, occupancy: Occupancy, part: Part) -> list[Part]:
    """A late part with the most pieces in time and the rest where it costs least; or whole as it was."""
    before = points(replace(problem, parts=(part,)), occupancy.assignment())
    there, runs = occupancy.take_off(part), dict(occupancy.runs)
    bits = _placed_bit_by_bit(occupancy, part, _in_time)
    if bits[-1].id not in occupancy.placed and (fit := cheapest_fit(occupancy, bits[-1])):
        occupancy.place(bits[-1], fit)
    after = points(replace(problem, parts=tuple(bits)), occupancy.assignment())
    if len(bits) > 1 and after < before:
        return bits
    for bit in bits:
        if bit.id in occupancy.placed:
            occupancy.take_off(bit)
    for pit, burning in runs.items():
        occupancy.burn(pit, burning)
    occupancy.place(part, Fit(there, runs[there.mode.pit], 0.0))
    return [part]


def _in_time(occupancy: Occupancy, part: Part) -> Fit | None:
    """The cheapest fit of a part where that is in time."""
    fit = cheapest_fit(occupancy, part)
    return None if fit is None or late_points(occupancy.problem, part, fit.placed) else fit


def _placed_bit_by_bit(occupancy: Occupancy, part: Part, fitting: Fitting) -> list[Part]:
    """Place the most that fits, and again of what is left; the last bit may have found no place."""
    bits: list[Part] = []
    left: Part | None = part
    while left is not None:
        names = (_bit_name(part, len(bits)), _bit_name(part, len(bits) + 1))
        some, rest, fit = _most_that_fits(occupancy, left, names, fitting)
        bits.append(some)
        if fit is None:
            break
        occupancy.place(some, fit)
        left = rest
    return bits


def _most_that_fits(
    occupancy: Occupancy, part: Part, names: tuple[str, str], fitting: Fitting
) -> tuple[Part, Part | None, Fit | None]:
    """The part whole if it fits, else its most pieces that do, found by halving, and the rest."""
    frame, whole = occupancy.problem.frame, fitting(occupancy, part)
    best: tuple[Part, Part | None, Fit | None] = (part, None, whole)
    fits, too_many = (part.pieces, part.pieces + 1) if whole else (0, part.pieces)
    while too_many - fits > 1:
        pieces = (fits + too_many) // 2
        first, last = split(part.share, pieces)
        some = _bit(frame, part, first, names[0])
        fit = fitting(occupancy, some)
        if fit is None:
            too_many = pieces
        else:
            fits, best = pieces, (some, part_of(frame, last, names[1]), fit)
    return best


def _bit(frame: Frame, part: Part, share: Share, name: str) -> Part:
    """The first pieces of a part: they stay the load that a committed plan has, with its pin."""
    return told_as(part_of(frame, share, name), part)


def _bit_name(part: Part, number: int) -> str:
    """Of its own even where the part is a bit itself."""
    return f"{part.id.removeprefix(f'{part.need.name}-')}-{number}"
