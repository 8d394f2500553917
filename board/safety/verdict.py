"""What a record proves about food: pass, fail or not shown, why, and what would settle it."""

from dataclasses import dataclass
from enum import StrEnum


class Answer(StrEnum):
    """What a record proves; "not shown" where its readings are too few to say."""

    PASS = "pass"  # noqa: S105 - a verdict, no password
    FAIL = "fail"
    NOT_SHOWN = "not shown"


@dataclass(frozen=True, slots=True)
class Held:
    """The longest unbroken time shown at or above a temperature, beside the time a rule's row asks."""

    at_or_above_c: float
    seconds: float
    needed_seconds: float


@dataclass(frozen=True, slots=True)
class CameTo:
    """A checkpoint on the way down: minutes it took, None where not shown; the most it may take."""

    at_or_below_c: float
    minutes: float | None
    within_minutes: float


@dataclass(frozen=True, slots=True)
class Checkpoint:
    """By when food must be how cold, or how hot: minutes from when the rule's clock starts, and in words."""

    after_minutes: float
    says: str
    most_c: float | None = None
    least_c: float | None = None


@dataclass(frozen=True, slots=True)
class Verdict:
    """What a record proves by one rule.

    `held` are the rows of a rule of heat, `came_to` the checkpoints of a rule of cooling. `settle` says what
    reading would settle a "not shown", empty when settled. `lethality_log10` stands beside the answer and
    never changes it, worked out by the figures of `lethality_by`; None where it is not.
    """

    food: str
    rule: str
    answer: Answer
    why: str
    source: str
    held: tuple[Held, ...] = ()
    lethality_log10: float | None = None
    lethality_by: str = ""
    cautions: tuple[str, ...] = ()
    settle: str = ""
    came_to: tuple[CameTo, ...] = ()
