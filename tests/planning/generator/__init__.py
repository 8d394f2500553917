"""Random realistic houses, the same for the same seed."""

from tests.planning.generator.houses import DAY, random_house
from tests.planning.generator.sizes import SIZES

__all__ = ["DAY", "SIZES", "random_house"]
