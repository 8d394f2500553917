"""When a load may start: counted back from its need, forward from now, and by who is there."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

import numpy as np

from board.house.model import StepRule
from board.planning.crew import Crew, Flags, somewhere_before, throughout
from board.planning.grid import SLOT_MINUTES, slots_down, slots_up, step_slots

# A longest gap that is not given is taken as this many minutes: four days in the cooler.
LONGEST_GAP_MINUTES = 4 * 24 * 60.0


@dataclass(frozen=True)
class Lengths:
    """A load's lengths in slots on one pit, and what its fire asks for."""

    load: int
    d10: int
    d50: int
    d90: int
    wrap_at: int | None
    wrap: int
    pull: int
    warm: int
    tended: bool
    turn_at: int | None = None


def timely(
    lengths: Lengths, ready_by: int, wait_until: int, *, rest: tuple[int, int], hold_max: int, tardy: int
) -> range:
    """Starts neither so early that the hold runs out nor so late that no guest would wait."""
    done = lengths.load + lengths.d50
    first = wait_until - hold_max - rest[1] - done
    last = ready_by + tardy - rest[0] - done
    return range(first, last + 1)


def staffed(lengths: Lengths, crew: Crew, shut: Flags) -> Flags:
    """Starts for which hands are there to load, wrap and pull, and someone by a fire that needs it.

    Hands are free for pulling when it usually comes done; whenever else it may, someone is there.
    """
    on = lengths.load
    ok = crew.someone("load", lengths.load)
    ok &= _shifted(crew.someone("pull", lengths.pull), on + lengths.d50)
    pulling = throughout(crew.on_hand("pull", lengths.pull), lengths.d90 - lengths.d10 + 1)
    ok &= _shifted(pulling, on + lengths.d10)
    if lengths.wrap_at is not None:
        ok &= _shifted(crew.someone("wrap", lengths.wrap), on + lengths.wrap_at)
    if lengths.turn_at is not None:
        ok &= _shifted(crew.someone("set", 1), on + lengths.turn_at)
    burning = ~shut & (crew.count > 0) if lengths.tended else ~shut
    whole = throughout(burning, lengths.warm + on + lengths.d90)
    return ok & _shifted(whole, -lengths.warm)


@dataclass(frozen=True)
class Outset:
    """Where time begins for a plan: the slot of now, and how long each recipe takes to be ready from it.

    `ready` are the slots from which batches made already are ready.
    """

    earliest: int
    batch_slots: Mapping[str, int]
    ready: Mapping[str, int] = field(default_factory=dict)

    def first(self, recipe: str | None) -> int:
        """The first slot in which a step may begin that uses this recipe, or none."""
        if recipe is not None and recipe in self.ready:
            return max(0, self.earliest, self.ready[recipe])
        if self.earliest <= 0:
            return 0
        return self.earliest + (self.batch_slots[recipe] if recipe else 0)

    def having(self, ready: Mapping[str, int]) -> "Outset":
        """With batches of these recipes made already, ready from a slot each."""
        return replace(self, ready={**self.ready, **ready}) if ready else self


def prepared(prep: tuple[StepRule, ...], pieces: int, crew: Crew, outset: Outset) -> Flags:
    """Starts of loading that some unbroken chain of preparation can reach."""
    return prep_starts(prep, pieces, crew, outset)[-1]


def prep_starts(prep: tuple[StepRule, ...], pieces: int, crew: Crew, outset: Outset) -> list[Flags]:
    """For each step of the preparation, the slots it can begin in; the last entry is for loading."""
    reached = np.ones(len(crew.count), dtype=np.bool_)
    reached[: max(0, outset.earliest)] = False
    found = []
    for rule in prep:
        work = step_slots(rule.work.minutes(pieces))
        begins = reached & crew.someone(rule.what, work)
        begins[: outset.first(rule.recipe)] = False
        found.append(begins)
        shortest, longest = gap_slots(rule, pieces)
        reached = somewhere_before(begins, work + shortest, work + longest)
    return [*found, reached]


def gap_slots(rule: StepRule, pieces: int) -> tuple[int, int]:
    """The shortest and longest gap after a step's slots; what it leaves of its last one is waited too."""
    shortest, longest = rule.gap_minutes
    work = rule.work.minutes(pieces)
    left = step_slots(work) * SLOT_MINUTES - work
    low = slots_up(shortest)
    return low, max(low, slots_down(min(longest, max(shortest, LONGEST_GAP_MINUTES)) - left))


def lead_slots(prep: tuple[StepRule, ...], pieces: int) -> tuple[int, int]:
    """The shortest and longest time from the first step's start to loading, in slots."""
    work = sum(step_slots(rule.work.minutes(pieces)) for rule in prep)
    gaps = [gap_slots(rule, pieces) for rule in prep]
    return work + sum(low for low, _ in gaps), work + sum(high for _, high in gaps)


def _shifted(flags: Flags, by: int) -> Flags:
    """The flag read `by` slots later; beyond the grid it does not hold."""
    result = np.zeros_like(flags)
    if by >= 0:
        result[: len(flags) - by] = flags[by:]
    else:
        result[-by:] = flags[:by]
    return result
