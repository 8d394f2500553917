"""Each entry is linked to all before it."""

from hashlib import sha256
from pathlib import Path

from board.ledger import chain, links, write
from board.ledger.links import START, Stored
from board.ledger.open import Ledger, open_ledger
from board.ledger.uptime import UNKNOWN, Uptime, uptime

from .by_hand import EVENING
from .test_write import by


def test_a_link_is_the_digest_of_the_link_before_and_the_entrys_line() -> None:
    """The text that is hashed is as docs/ledger.md tells it, spelled out by hand (SHA-256: FIPS 180-4)."""
    entry = Stored(
        1, "2026-12-09T01:00:00.000Z", "2026-12-09T01:00:02.000Z", "Ada", "note", "", '{"text":"é"}', None
    )
    told = (
        '{"at":"2026-12-09T01:00:00.000Z","boot":"b","data":"{\\"text\\":\\"é\\"}","kind":"note",'
        '"noted_at":"2026-12-09T01:00:02.000Z","seq":1,"subject":"","undoes":null,"up_ms":7,"who":"Ada"}'
    )
    assert links.line(entry, Uptime("b", 7)) == told
    assert links.link(START, told) == sha256(("0" * 64 + "\n" + told).encode()).hexdigest()


def test_every_entry_gets_its_link(planned: Ledger) -> None:
    """The chain over all columns of all entries ends in its head."""
    planned.uptime = lambda: Uptime("boot", 12)  # type: ignore[method-assign]
    for text in ("one", "two"):
        write.note(planned, text, **by("Ada", EVENING))
    found = [Stored(*row) for row in planned.db.execute(links.ENTRIES)]
    ups = [UNKNOWN, Uptime("boot", 12), Uptime("boot", 12)]
    previous = START
    for entry, up in zip(found, ups, strict=True):
        previous = links.link(previous, links.line(entry, up))
    assert chain.head(planned) == (3, previous)


def test_entries_from_before_the_chain_are_linked_as_the_ledger_is_opened(
    planned: Ledger, path: Path
) -> None:
    """A ledger without links gets the same chain as one that had them all along."""
    write.note(planned, "one", **by("Ada", EVENING))
    whole = chain.head(planned)
    planned.db.execute("DROP TABLE links")
    planned.db.execute("DELETE FROM _sqlite_migrations WHERE name LIKE '0011%'")
    planned.close()
    with open_ledger(path) as again:
        assert chain.head(again) == whole


def test_the_machines_count_goes_on() -> None:
    """Two counts of one process are of one boot and in order."""
    first, second = uptime(), uptime()
    assert first.boot == second.boot
    assert first.up_ms is not None
    assert second.up_ms is not None
    assert first.up_ms <= second.up_ms
