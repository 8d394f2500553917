"""What became of what a feed brought."""

from dataclasses import dataclass

from board.house.wording import count


@dataclass(slots=True)
class Counts:
    """How many readings were kept, left out on purpose or there already, and how many messages set aside."""

    kept: int = 0
    thinned: int = 0
    doubled: int = 0
    bad: int = 0

    def sentence(self) -> str:
        """All of them in a sentence, what did not happen left out."""
        told = [
            f"{count(self.kept, 'reading')} kept",
            f"{self.thinned} left out between them",
            f"{self.doubled} there already",
            f"{count(self.bad, 'message')} set aside (see board feed aside)",
        ]
        numbers = (self.kept, self.thinned, self.doubled, self.bad)
        return ", ".join(words for words, n in zip(told, numbers, strict=True) if n or words is told[0])
