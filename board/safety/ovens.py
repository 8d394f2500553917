"""Whether a roast was cooked in an oven such as its chart asks for: by weight when dry, cooler when humid."""

from dataclasses import dataclass

from board.house.model import Handling
from board.safety.limits import roast_oven_least_c
from board.safety.log import slack_k
from board.safety.tables import rules
from board.safety.wording import degrees

# what a roast is cooked as where its oven does not suit the chart; a ham has had its cure driven in
WITHOUT_CHART = {Handling.INTACT_ROAST: Handling.INTACT_CUT, Handling.CURED_HAM: Handling.INJECTED}


@dataclass(frozen=True, slots=True)
class Oven:
    """What a roast was cooked in: its setpoint, the raw mass of one piece, and what the air was like."""

    setpoint_c: float
    mass_kg: float
    convection: bool = False
    humid: bool = False


def why_not_by_chart(oven: Oven, place: str = "us") -> str:
    """Why a roast out of this oven does not go by its chart, in a sentence; empty where it does."""
    least_c = roast_oven_least_c(oven.mass_kg, place, convection=oven.convection)
    humid_most_c = rules(place, "roast_oven").limit("humid", "most").most_c()
    if oven.setpoint_c >= least_c - slack_k() or (oven.humid and oven.setpoint_c <= humid_most_c + slack_k()):
        return ""
    oven_at = f"{'An' if oven.humid else 'A dry'} oven at {degrees(oven.setpoint_c)}"
    return (
        f"{oven_at} is cooler than the {degrees(least_c)} the roast chart asks for a piece of "
        f"{oven.mass_kg:.3g} kg, so it is cooked as other meat is."
    )
