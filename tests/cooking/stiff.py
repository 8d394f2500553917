"""The same equations, written again for SciPy's BDF: an independent solver to hold ours against.

State: temperatures, expelled juice and boiled water of each node, and the film. Nothing of the package's
solver is used, only its data: composition, air and parameters.
"""

from collections.abc import Callable
from dataclasses import dataclass, field, replace

import numpy as np
import psychrolib
from numpy.typing import NDArray
from scipy.integrate import solve_ivp

Floats = NDArray[np.float64]

psychrolib.SetUnitSystem(psychrolib.SI)


@dataclass
class Place:
    """Air, walls and wrap of one stretch of the cook."""

    h: float
    emissivity: float
    air_c: float
    wall_c: float
    humidity: float
    gap: float = 0.0
    tight: float = 0.0
    moving: Callable[[float], float] | None = None

    def at(self, second: float) -> "Place":
        """The place at a moment, its moving air added to what it has."""
        if self.moving is None:
            return self
        more = self.moving(second)
        return replace(self, air_c=self.air_c + more, wall_c=self.wall_c + more)


@dataclass
class Piece:
    """The body, the meat and the juice."""

    radius: float
    g: float
    heat: tuple[float, float, float]
    conductivity: tuple[float, float, float]
    density: float
    water: float
    expelled: float
    midpoint: float
    width: float
    lag: float
    wicking: float
    nodes: int = 20
    pressure: float = 101325.0
    boiling_c: float = 100.0
    x: Floats = field(init=False)
    volume: Floats = field(init=False)

    def __post_init__(self) -> None:
        n = self.nodes
        self.x = (np.arange(n) + 0.5) / n
        edges = np.concatenate([[0.0], self.x, [1.0]])
        self.volume = self.radius * np.diff(edges ** (self.g + 1)) / (self.g + 1)


def rates(y: Floats, piece: Piece, place: Place) -> Floats:
    """d/dt of everything."""
    m = piece.nodes + 1
    t, e, b, w = y[:m], y[m : 2 * m], y[2 * m : 3 * m], max(y[-1], 0.0)
    de = (
        np.maximum(0.0, piece.expelled / (1 + np.exp((piece.midpoint - t) / piece.width)) - b - e) / piece.lag
    )
    made = piece.density * piece.volume * de
    out = np.cumsum(made)
    lost = np.dot(e + b, piece.volume) / piece.volume.sum()
    s = (1 - piece.density / 1000 * lost) ** (1 / 3)
    k = np.polyval(piece.conductivity[::-1], t) * (1 - 0.65 * np.clip(b / (piece.water - e), 0, 1))
    face_k = (k[1:] + k[:-1]) / 2
    face = face_k * s * piece.x**piece.g * piece.nodes / piece.radius
    q = face * np.diff(t)
    carried = 4180 * out[:-1] * (t[1:] + t[:-1]) / 2
    wet = np.minimum(1, np.maximum(piece.water - e - b, 0) / 0.05)
    sb = 5e4 * np.maximum(0, t - piece.boiling_c) * wet * piece.volume
    ts = t[-1]
    hot, cold = place.wall_c + 273.15, ts + 273.15
    hr = place.emissivity * 5.670374419e-8 * (hot**2 + cold**2) * (hot + cold)
    gained = s**2 * (place.h * (place.air_c - ts) + hr * (hot - cold)) / (1 + (place.h + hr) * place.gap)
    p = psychrolib.GetVapPresFromHumRatio(place.humidity, piece.pressure)
    part = min(0.98 * psychrolib.GetSatVapPres(min(ts, 199.0)) / piece.pressure, 0.995)
    drive = np.log((1 - p / piece.pressure) / (1 - part))
    transfer = 0.622 * place.h / (1006 * 0.9)
    phi = w / (w + 0.02)
    vapour = s**2 * phi * transfer / (1 + phi * transfer * place.tight) * drive
    juice = out[-1] / (1 + out[-1] / piece.wicking)
    into = np.zeros(m)
    into[:-1] += q - carried
    into[1:] -= q - carried
    into[-1] += gained - (2.501e6 - 2361 * ts) * vapour - 4180 * out[-1] * ts
    into += 4180 * made * t - sb
    capacity = piece.density * piece.volume * (np.polyval(piece.heat[::-1], t) - 4180 * (e + b))
    db = sb / (piece.density * piece.volume * (2.501e6 - 2361 * piece.boiling_c))
    dw = juice - vapour - 1e-4 * (w / 0.3) ** 3
    return np.concatenate([into / capacity, de, db, [dw]])


def course(
    piece: Piece, legs: list[tuple[Place, float | None, float]], start_c: float, ask: Floats
) -> tuple[Floats, list[float]]:
    """Core temperatures at asked seconds and the switch times.

    Each leg is a place, the core that ends it (None: none) and its longest duration (s).
    """
    m = piece.nodes + 1
    y = np.concatenate([np.full(m, start_c), np.zeros(2 * m), [0.1]])
    now, cores, switches = 0.0, np.full(len(ask), np.nan), []
    for place, until, longest in legs:
        ends = []
        if until is not None:

            def event(_t: float, state: Floats, until: float = until) -> float:
                return float(state[0] - until)

            event.terminal = True  # type: ignore[attr-defined]
            ends = [event]
        found = solve_ivp(
            lambda t, state, place=place: rates(state, piece, place.at(t)),
            (now, now + longest),
            y,
            method="BDF",
            rtol=1e-6,
            atol=1e-7,
            dense_output=True,
            events=ends or None,
            max_step=np.inf if place.moving is None else 120.0,
        )
        last = found.t[-1]
        within = (ask >= now) & (ask <= last)
        cores[within] = found.sol(ask[within])[0]
        y, now = found.y[:, -1], last
        switches.append(last)
    return cores, switches
