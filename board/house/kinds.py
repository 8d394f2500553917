"""The kinds of quantity a house is described in, and the exact size of their usual units."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import inf

POUND_KG = 0.45359237  # by definition: NIST SP 811, appendix B.8
INCH_M = 0.0254  # by definition: NIST SP 811, appendix B.8
FOOT_M = 12 * INCH_M
GALLON_L = 231 * (INCH_M * 10) ** 3  # the US gallon is 231 cubic inches: NIST Handbook 44, appendix C


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of quantity: what to call it, a right example, and the units that measure it.

    `units` maps a usual spelling to its factor to `si`, the unit the code keeps; `most`, in `si`, is far
    beyond any house, and bounds the sums of times and sizes.
    """

    name: str
    example: str
    si: str
    units: Mapping[str, float]
    most: float = inf

    @property
    def allowed(self) -> str:
        """What a person may write instead, for an error message."""
        return f"{self.name} such as {self.example}"


def _spelled(factors: Mapping[str, float]) -> dict[str, float]:
    """One entry a spelling, from keys that list several spellings."""
    return {spelling: factor for names, factor in factors.items() for spelling in names.split("|")}


MASS = Kind(
    "a mass",
    "14 lb or 6.4 kg",
    "kg",
    _spelled(
        {
            "kg|kilo|kilos|kilogram|kilograms": 1.0,
            "g|gram|grams": 1e-3,
            "mg": 1e-6,
            "t|tonne|tonnes": 1e3,
            "lb|lbs|pound|pounds|#": POUND_KG,
            "oz|ounce|ounces": POUND_KG / 16,
        }
    ),
    most=1e6,
)
LENGTH = Kind(
    "a length",
    "12 cm or 5 in",
    "m",
    _spelled(
        {
            "m|metre|metres|meter|meters": 1.0,
            "cm": 1e-2,
            "mm": 1e-3,
            "km": 1e3,
            'in|inch|inches|"': INCH_M,
            "ft|foot|feet|'": FOOT_M,
        }
    ),
)
AREA = Kind(
    "an area",
    "1.8 m2, 20 sq ft or 24 x 36 in",
    "m**2",
    _spelled(
        {
            "m2|m^2|m²|sq m": 1.0,
            "cm2|cm^2|cm²|sq cm": 1e-4,
            "ft2|ft^2|ft²|sq ft|sqft": FOOT_M**2,
            "in2|in^2|in²|sq in": INCH_M**2,
        }
    ),
    most=1e5,
)
VOLUME = Kind(
    "a volume",
    "2 qt or 1.9 L",
    "L",
    _spelled(
        {
            "L|l|litre|litres|liter|liters": 1.0,
            "dl|dL": 0.1,
            "cl|cL": 0.01,
            "ml|mL": 1e-3,
            "gal|gallon|gallons": GALLON_L,
            "qt|quart|quarts": GALLON_L / 4,
            "pt|pint|pints": GALLON_L / 8,
            "cup|cups": GALLON_L / 16,
            "fl oz|floz": GALLON_L / 128,
            "tbsp|tablespoon|tablespoons": GALLON_L / 256,
            "tsp|teaspoon|teaspoons": GALLON_L / 768,
        }
    ),
)
TIME = Kind(
    "a length of time",
    "90 min or 1 h 30",
    "min",
    _spelled(
        {
            "min|mins|minute|minutes|m": 1.0,
            "s|sec|second|seconds": 1 / 60,
            "h|hr|hrs|hour|hours": 60.0,
            "d|day|days": 1440.0,
            "week|weeks": 10080.0,
        }
    ),
    most=10 * 365.25 * 1440,
)
TEMPERATURE = Kind("a temperature", "225 F or 107 C", "degC", {})
DIFFERENCE = Kind("a difference of temperature", "10 C or 18 F", "delta_degC", {})
FRACTION = Kind("a fraction", "8 % or 0.08", "", {})
DENSITY = Kind("a density", "1.2 kg/L or 217 g/cup", "kg/L", {})
MASS_AN_AREA = Kind("a mass on a surface", "60 g/m2 or 0.2 oz/sq ft", "kg/m**2", {})
VOLUME_A_MASS = Kind("a volume for a mass", "0.6 L/kg or 1 qt/lb", "L/kg", {})
MASS_RATE = Kind("a mass an hour", "4 kg/h or 9 lb/h", "kg/h", {})
PRICE = Kind("a price for a mass", "0.35 / kg or 0.16 / lb", "1/kg", {})
