"""What came of the rounds of a proof, as a table."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from tests.faults.check import Told


@dataclass(slots=True)
class Tally:
    """What came of the rounds of one kind."""

    rounds: int = 0
    acknowledged: int = 0
    undecided: int = 0
    wrong: list[str] = field(default_factory=list)

    def take(self, hands: Mapping[str, Told], wrong: list[str]) -> None:
        """One more round: what its hands were told, and what was found wrong after it."""
        self.rounds += 1
        self.acknowledged += sum(len(one.acknowledged) for one in hands.values())
        self.undecided += sum(len(one.open) for one in hands.values())
        self.wrong += [f"{line} (round {self.rounds})" for line in wrong]


def print_table(title: str, tallies: Mapping[str, Tally]) -> int:
    """Print a line a kind and the first of what was wrong; 1 where anything was, or nothing was tried."""
    print(title)
    wide = max(33, *map(len, ("", *tallies))) + 1
    print(f"{'':<{wide}}{'rounds':>8}{'acknowledged':>14}{'undecided':>11}{'wrong':>7}")
    for kind, tally in tallies.items():
        print(
            f"{kind:<{wide}}{tally.rounds:>8}{tally.acknowledged:>14}{tally.undecided:>11}{len(tally.wrong):>7}"
        )
    wrong = [f"    {kind}: {line}" for kind, tally in tallies.items() for line in tally.wrong]
    if not any(tally.rounds for tally in tallies.values()):
        wrong.append("    nothing was tried")
    print("\n".join(wrong[:10]), end="\n" if wrong else "")
    return int(bool(wrong))
