"""What an inspector is shown of a span: what it proves, what failed, what was put right, and every entry."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from board.house.calendar import local
from board.house.degrees import shown
from board.house.model import House
from board.house.read_probes import silence_of
from board.house.wording import day_name
from board.ledger import read
from board.ledger.chain import Head, head
from board.ledger.digest import covered, digest
from board.ledger.fed_spans import FedSpan, fed_spans
from board.ledger.open import Ledger
from board.ledger.state import Entry
from board.safety.tables import edition, place_name, who_decides
from board.views import names
from board.views.facts import Facts
from board.views.fed_record import fed_says
from board.views.happened import sentence
from board.views.probes import as_corrected, judged, probe_failed
from board.views.proofs import Proof, proofs, span_facts
from board.views.record import knowing
from board.views.text import inert

_A_MOMENT = timedelta(seconds=1)
ADVISES = "The board advises and records, it does not certify."


@dataclass(frozen=True, slots=True)
class Signed:
    """A signature of the span: by whom, when, with a PIN or not, and whether anything was added since."""

    who: str
    at: datetime
    sha256: str
    unchanged: bool
    pin: bool


@dataclass(frozen=True, slots=True)
class Inspection:
    """Everything the print-out says, as plain data; `facts` are those of the span."""

    facts: Facts
    since: datetime
    until: datetime
    printed_at: datetime
    proofs: tuple[Proof, ...]
    entries: tuple[Entry, ...]
    sha256: str
    signed: tuple[Signed, ...]
    head: Head
    fed: tuple[FedSpan, ...] = ()

    @property
    def whole(self) -> str:
        """What stands for the whole record at the print: `258:9f2c…`; `board doctor` can compare it."""
        return f"{self.head.seq}:{self.head.sha256}"

    @property
    def told(self) -> tuple[Entry, ...]:
        """The entries that are told one by one: what was fed is told by probe."""
        return tuple(entry for entry in self.entries if entry.kind != "fed")

    def fed_says(self, span: FedSpan) -> str:
        """What a probe fed, in a sentence."""
        return fed_says(self.facts, span)

    @property
    def house(self) -> House:
        """Whose record it is."""
        return self.facts.house

    @property
    def span(self) -> str:
        """The span in words."""
        first, end = local(self.since, self.house).date(), self.until_day
        years = str(first.year) if first.year == end.year else f"{first.year}–{end.year}"
        span = day_name(first) if first == end else f"{day_name(first)} to {day_name(end)}"
        return f"{span} {years}"

    @property
    def until_day(self) -> date:
        """The last day covered."""
        return local(self.until - _A_MOMENT, self.house).date()

    @property
    def rules(self) -> str:
        """Whose rules are gone by, in which edition, and who decides."""
        place = self.house.jurisdiction
        return f"Rules: {place_name(place)}, {edition(place)}. {who_decides(place)}"

    @property
    def failed(self) -> tuple[Proof, ...]:
        """What is certainly not as its rule asks."""
        return tuple(proof for proof in self.proofs if proof.failed)

    @property
    def bad_probes(self) -> tuple[Entry, ...]:
        """The probe checks that found a probe too far off."""
        checks = (entry for entry in self.of_kind("probe") if not entry.undone)
        return tuple(e for e in checks if probe_failed(self.house, as_corrected(self.facts, e)))

    def of_kind(self, *kinds: str) -> list[Entry]:
        """The entries of some kinds, those taken back too."""
        return [entry for entry in self.entries if entry.kind in kinds]

    def says(self, entry: Entry) -> str:
        """An entry in a sentence."""
        return sentence(self.facts, entry) or inert(f"{entry.kind} {entry.subject}")


def inspection(
    ledger: Ledger, house: House, since: datetime, until: datetime, printed_at: datetime
) -> Inspection:
    """The record of a span, from one reading of the ledger."""
    with ledger.reading():
        entries = covered(ledger, since, until)
        facts = knowing(ledger, span_facts(ledger, house, since, max(since, min(until, printed_at))), entries)
        found = proofs(ledger, facts, since, until)
        sha256 = digest(entries)
        signed, whole = tuple(_signed(ledger, since, until, sha256)), head(ledger)
        fed = tuple(fed_spans(ledger, since, until, silence_of(house)))
    return Inspection(
        facts, since, until, printed_at, tuple(found), tuple(entries), sha256, signed, whole, fed
    )


def _signed(ledger: Ledger, since: datetime, until: datetime, sha256: str) -> Sequence[Signed]:
    """The signatures of this very span, in order."""
    found = []
    for entry in read.entries(ledger, kinds=("signature",)):
        data = entry.data
        same = (datetime.fromisoformat(data["since"]), datetime.fromisoformat(data["until"])) == (
            since,
            until,
        )
        if same and not entry.undone:
            found.append(Signed(entry.who, entry.at, data["sha256"], data["sha256"] == sha256, "pin" in data))
    return found


def exactly(house: House, celsius: float) -> str:
    """A temperature in the house's degrees as near as it was written: `156.25 °F`, `57 °C`."""
    letter = "F" if house.display.temperature == "degF" else "C"
    return f"{round(shown(celsius, house.display), 2):g} °{letter}"


def moment_said(house: House, moment: datetime) -> str:
    """A moment with its date, as `19 Dec 14:05`."""
    there = local(moment, house)
    return f"{there.day} {there:%b} {names.clock(house, moment)}"


def probe_verdict(house: House, data: Mapping[str, object]) -> str:
    """A probe check judged, in a sentence."""
    return judged(house, data).why
