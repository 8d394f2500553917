"""Degrees and times in a verdict's sentences: both scales, and no more digits than a probe has."""

from board.house.degrees import to_fahrenheit


def degrees(celsius: float) -> str:
    """A temperature in both scales, to a tenth: 62.8 °C (145 °F)."""
    return f"{_tenth(celsius)} °C ({_tenth(to_fahrenheit(celsius))} °F)"


def degrees_off(celsius: float, limit_c: float) -> str:
    """A temperature beside a limit it misses, with the digits that tell them apart: 62.77 °C (144.99 °F)."""
    in_f = _apart(to_fahrenheit(celsius), to_fahrenheit(limit_c))
    return f"{_apart(celsius, limit_c)} °C ({in_f} °F)"


def seconds_long(seconds: float) -> str:
    """A length of time as a cook says it, to the second: 15 s, 4 min, 1 h 52 min."""
    whole = round(seconds)
    hours, rest = divmod(whole, 3600)
    minutes, left = divmod(rest, 60)
    parts = [(hours, "h"), (minutes, "min"), (left if whole < 600 else 0, "s")]
    return " ".join(f"{number} {unit}" for number, unit in parts if number) or "0 s"


def beside(seconds: float, limit_s: float) -> str:
    """A length of time to be told beside a limit that it misses: just over 2 h, where both would read 2 h."""
    told = seconds_long(seconds)
    if told != seconds_long(limit_s):
        return told
    return f"just {'over' if seconds > limit_s else 'under'} {told}"


def minutes_long(minutes: float) -> str:
    """A length of time given in minutes."""
    return seconds_long(60.0 * minutes)


def between(least_s: float, most_s: float) -> str:
    """A length of time that is only known within bounds, in seconds; one where both read the same."""
    least, most = seconds_long(least_s), seconds_long(most_s)
    return least if least == most else f"{least} to {most}"


def _apart(number: float, limit: float) -> str:
    digits = next((n for n in (1, 2, 3) if round(number, n) != round(limit, n)), 4)
    return _tenth(number) if digits == 1 else f"{number:.{digits}f}"


def _tenth(number: float) -> str:
    return "0" if abs(number) < 0.05 else f"{number:.1f}".removesuffix(".0")
