"""What a cook is told of how even the salt is: in how many hours, how far, and what to do about it."""

from collections.abc import Iterator

from board.batches.shares import Shares
from board.batches.spread import Evenness, SaltSpread, half_way_mm, in_hours_or_days

EVEN = 0.9  # of the mean, in the middle: as even as a mouth tells


def spread_says(spread: SaltSpread) -> tuple[str, ...]:
    """Sentences on the planned time and on how long even salt takes."""
    return tuple(_says(spread))


def instead_says(spread: SaltSpread, hours: float, rest_hours: float = 0.0) -> tuple[str, ...]:
    """Sentences on being ready after other hours than the planned ones."""
    asked = spread.after(hours, rest_hours)
    planned = spread.planned
    differs = planned is not None and planned.hours != hours
    instead = f" instead of {in_hours_or_days(planned.hours)}" if planned and differs else ""
    rested = f" and {in_hours_or_days(rest_hours)} of rest" if rest_hours else ""
    says = (
        f"Ready after {in_hours_or_days(hours)}{rested}{instead}: the middle has {_middle(asked)} "
        f"of the mean, the outside {_times(asked.usual)}{_in_all(spread, asked)}."
    )
    if planned is None or not differs:
        return (says,)
    return says, (
        f"After the planned {in_hours_or_days(planned.hours)} the middle has {_middle(planned)} of the mean, "
        f"the outside {_times(planned.usual)}{_in_all(spread, planned)}."
    )


def _in_all(spread: SaltSpread, found: Evenness) -> str:
    """How much of its salt the meat has in all, where it comes from outside."""
    if spread.solid is None:
        return ""
    return f"; in all it has {100 * found.usual.mean:.0f} % of the salt of lying in it for good"


def _says(spread: SaltSpread) -> Iterator[str]:
    even = (
        f"{in_hours_or_days(spread.hours_to_90_percent)} "
        f"({in_hours_or_days(spread.hours_low)} to {in_hours_or_days(spread.hours_high)})"
    )
    planned = spread.planned
    if planned is None:
        yield f"The middle has nine tenths of the salt after about {even}: {_way(spread)}."
    elif spread.solid is None:
        yield (
            f"{in_hours_or_days(planned.hours)} after the pump the middle between two holes has "
            f"{_middle(planned)} of the mean; nine tenths takes about {even}, {_way(spread)}."
        )
    else:
        yield from _lain_in(spread, planned, even)


def _lain_in(spread: SaltSpread, planned: Evenness, even: str) -> Iterator[str]:
    if planned.usual.middle_of_mean >= EVEN:
        yield f"After {in_hours_or_days(planned.hours)} in it the salt is even to the middle."
        return
    deep = min(half_way_mm(planned.hours), spread.depth_mm)
    yield (
        f"After {in_hours_or_days(planned.hours)} in it salt is about {deep:.0f} mm deep of the "
        f"{spread.depth_mm:.0f} mm to the middle; the middle has {_middle(planned)} of the mean, "
        f"the outside {_times(planned.usual)}."
    )
    if planned.rest_hours:
        yield f"The {in_hours_or_days(planned.rest_hours)} it then waits, drained and cold, are counted in."
    if spread.hours_to_90_percent > 3 * planned.hours:
        yield f"Even salt would take about {even}: inject it, or count on a salted outside."
    else:
        yield f"Even salt takes about {even}: leave it in longer, or let it lie drained and cold."


def _way(spread: SaltSpread) -> str:
    return f"{spread.depth_mm:.3g} mm {spread.how}"


def _middle(evenness: Evenness) -> str:
    """The middle in per cent of the mean, with its range where it is not one figure."""
    usual, low, high = (
        round(100 * shares.middle_of_mean) for shares in (evenness.usual, evenness.slow, evenness.fast)
    )
    return f"{usual} %" if low == high else f"{usual} % ({low}–{high} %)"


def _times(shares: Shares) -> str:
    """The outside beside the mean: in per cent where near it, as a multiple beyond."""
    of_mean = shares.outside_of_mean
    return f"{100 * of_mean:.0f} % of it" if of_mean < 2 else f"{of_mean:.1f} times it"
