"""How long meat may lie in a brine or marinade without nitrite, kept cold."""

from board.safety.tables import rules


def in_brine_most_minutes(*, poultry: bool, place: str = "us") -> float:
    """The longest that raw poultry, or other meat, is kept in a brine or marinade, minutes."""
    return float(rules(place, "marinade").rows["poultry_minutes" if poultry else "red_meat_minutes"])
