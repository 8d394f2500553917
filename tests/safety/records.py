"""Records of temperatures for the tests, and strategies that draw them."""

from hypothesis import strategies as st

from board.safety.log import TemperatureLog


def fahrenheit(degrees: float) -> float:
    """°C of a °F."""
    return (degrees - 32) / 1.8


def record(*readings: tuple[float, float | None]) -> TemperatureLog:
    """A record in °C of (minute, °C)."""
    return TemperatureLog(tuple(m for m, _ in readings), tuple(c for _, c in readings))


def record_f(*readings: tuple[float, float]) -> TemperatureLog:
    """A record read in °F of (minute, °F)."""
    return TemperatureLog(tuple(m for m, _ in readings), tuple(fahrenheit(f) for _, f in readings), True)


def plateau(c: float, seconds: float, *, in_fahrenheit: bool = False) -> TemperatureLog:
    """Meat that jumps from 20 °C to a temperature, stays for so long, and is let go cold as fast."""
    minutes = (0.0, 29.999999, 30.0, 30.0 + seconds / 60, 30.000001 + seconds / 60, 90.0 + seconds / 60)
    cold = 20.0
    return TemperatureLog(minutes, (cold, cold, c, c, cold, cold), in_fahrenheit)


@st.composite
def records(draw, *, low=0.0, high=95.0, gaps=True, apart=90.0):
    """Records of 1 to 12 readings, a minute to `apart` minutes between them, in tenths, with gaps."""
    steps = draw(st.lists(st.sampled_from([1.0, 7.0, 30.0, apart]), min_size=0, max_size=11))
    minutes = [0.0]
    for step in steps:
        minutes.append(minutes[-1] + step)
    tenths = st.integers(round(low * 10), round(high * 10)).map(lambda n: n / 10)
    reading = tenths | st.none() if gaps else tenths
    return TemperatureLog(tuple(minutes), tuple(draw(reading) for _ in minutes))


@st.composite
def filled(draw, log: TemperatureLog) -> TemperatureLog:
    """The record with readings added on the straight lines between neighbours."""
    minutes, degrees = [log.minutes[0]], [log.temperatures_c[0]]
    for i in range(1, len(log.minutes)):
        before_m, before, m, c = minutes[-1], degrees[-1], log.minutes[i], log.temperatures_c[i]
        if before is not None and c is not None:
            for n in range(1, draw(st.integers(1, 4))):
                share = n / 4
                minutes.append(before_m + share * (m - before_m))
                degrees.append(before + share * (c - before))
        minutes.append(m)
        degrees.append(c)
    return TemperatureLog(tuple(minutes), tuple(degrees))


@st.composite
def holed(draw, log: TemperatureLog) -> TemperatureLog:
    """The record with some readings lost."""
    kept = [c if draw(st.booleans()) else None for c in log.temperatures_c]
    return TemperatureLog(log.minutes, tuple(kept))


@st.composite
def colder(draw, log: TemperatureLog) -> TemperatureLog:
    """The record with every reading as it was or colder."""
    falls = st.integers(0, 300).map(lambda n: n / 10)
    return TemperatureLog(
        log.minutes, tuple(None if c is None else c - draw(falls) for c in log.temperatures_c)
    )
