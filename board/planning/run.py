"""A pit burning: from when, until when, and at which setpoint."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Run:
    """A pit burning at one setpoint from slot `begin` to `end`.

    `chained` follows hot on another run; `known` burns already, or is decided, and may only burn longer.
    """

    begin: int
    end: int
    setpoint_c: float
    chained: bool = False
    known: bool = False
