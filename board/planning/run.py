"""What a plan is made of besides meat: fires that burn, and work that takes hands."""

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


@dataclass(frozen=True)
class Task:
    """Work that takes one pair of hands through a half-open span of slots."""

    what: str
    begin: int
    end: int
