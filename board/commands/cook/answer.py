"""The answer to one question: the cook understood, its estimate, what was read, learned and accounted for."""

from dataclasses import dataclass
from typing import Any

from board.commands.cook.asked import Question, cook_of, cut_of, display_of, house_of
from board.commands.cook.document import document
from board.commands.cook.lesson_document import lesson_document
from board.commands.cook.measured import with_measured_air
from board.commands.cook.taken import Taken
from board.commands.cook.told import told
from board.commands.cook.typed import timed
from board.commands.cook.why import account_of, why_told
from board.commands.cook.why_document import why_document
from board.cooking.account.figures import Account
from board.cooking.cook import Cook, Estimate
from board.cooking.estimate import estimate
from board.cooking.learning.lesson import Lesson, lesson
from board.cooking.possible import check_readings
from board.house.model import Display
from board.sheets import page
from board.views.lesson import sentences


@dataclass(frozen=True, slots=True)
class Answer:
    """Everything `board cook` has to say; `learned` without a house and `account` unasked are None."""

    cook: Cook
    found: Estimate
    taken: Taken
    display: Display
    learned: Lesson | None
    account: Account | None

    @property
    def document(self) -> dict[str, Any]:
        """The promised document."""
        whole = document(self.cook, self.found, self.taken)
        whole["learned"] = lesson_document(self.learned) if self.learned else None
        return whole | {"why": why_document(self.account)} if self.account else whole

    @property
    def text(self) -> str:
        """The answer in sentences, then what was learned, then the account."""
        parts = [told(self.cook, self.found, self.taken, self.display)]
        if self.learned:
            parts.append("\n".join(page.sentences(sentences(self.learned, self.display), page.WIDTH)))
        if self.account:
            parts.append(why_told(self.account, self.cook, self.display, self.taken.revision, page.WIDTH))
        return "\n\n".join(parts)


def answer(question: Question) -> Answer:
    """Do the sums a person asked for; raises BoardError for what cannot be."""
    house = house_of(question.folder)
    measured = with_measured_air(
        cook_of(cut_of(question.cut, house), house, question),
        air=question.air,
        settings=question.settings,
        opened=question.opened,
    )
    cook, display = measured.cook, display_of(house, question)
    read = [timed("--reading", text, "2h40=61 C") for text in question.readings]
    check_readings(cook, read)
    found = estimate([cook], members=question.members, seed=question.seed, curves=True)[0]
    return Answer(
        cook=cook,
        found=found,
        taken=Taken.of(measured, found, read),
        display=display,
        learned=lesson(house, cook.cut, question.pit, cook.pit) if house else None,
        account=account_of(cook, found, display, question.seed) if question.why else None,
    )
