"""The houses and problems that the rows are measured on."""

from datetime import date
from math import ceil

from board.house.files import read_house
from board.house.model import House
from board.house.seeds import seed_house
from board.planning.build import build
from board.planning.demand import needs_of
from board.planning.dues import occasions_on
from board.planning.problem import Problem
from board.planning.weights import weights_of
from tests.planning.generator import DAY, random_house
from tests.planning.generator.sizes import Size

DEMO = "tallow_row"
DEMO_DAY = date(2026, 12, 19)


def house_of(size: str, seed: int) -> tuple[House, date]:
    """The demo house, or a drawn one of a size, and the day it is planned for."""
    if size == DEMO:
        return read_house(seed_house(DEMO)), DEMO_DAY
    return random_house(size, seed), DAY


def growing(loads: int, seed: int) -> House:
    """A drawn house with a pit for six loads, roomy at any size, so that only its size grows."""
    return random_house(Size(ceil(loads / 6), loads, ceil(loads / 7), 7), seed)


def problem_of(house: House, day: date) -> Problem:
    """The planning problem of a day."""
    weights = weights_of(house.weighing)
    needs = needs_of(house, occasions_on(house, day), weights.enough_chance)
    return build(house, needs, weights, seed=0, now=None)
