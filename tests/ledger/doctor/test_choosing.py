"""Which entries are taken into a mended ledger, over drawn records, damage and backups."""

from collections.abc import Mapping
from dataclasses import replace

from hypothesis import assume, given
from hypothesis import strategies as st

from board.ledger.doctor.choosing import choose
from board.ledger.doctor.salvage import Source
from board.ledger.links import START, Stored, line, link
from board.ledger.pieces import Piece
from board.ledger.uptime import UNKNOWN

AT = "2026-12-09T01:00:00.000Z"
KINDS_OF_DAMAGE = (
    "",
    "",
    "",
    "entry gone",
    "link gone",
    "both gone",
    "entry changed",
    "link changed",
    "both changed",
)


def chained(words: list[str], after: list[Piece] = ()) -> list[Piece]:  # type: ignore[assignment]
    """A record that says these words, on from some entries."""
    found = list(after)
    for word in words:
        seq, previous = len(found) + 1, found[-1].sha256 if found else START
        entry = Stored(seq, AT, AT, "Ada", "note", "", f'{{"text":"{word}"}}', None)
        found.append(Piece(entry, link(previous or "", line(entry, UNKNOWN))))
    return found


def source(record: list[Piece], damage: Mapping[int, str] = {}, last: int | None = None) -> Source:
    """What can be read of a record after some damage, by entry number."""
    pieces, links = {}, {}
    for piece in record:
        how, seq = damage.get(piece.entry.seq, ""), piece.entry.seq
        sha256 = None if how in ("link gone", "both gone") else piece.sha256
        if how in ("link changed", "both changed"):
            sha256 = "f" * 64
        if sha256 is not None:
            links[seq] = sha256
        entry = piece.entry._replace(who="Max") if how in ("entry changed", "both changed") else piece.entry
        if how not in ("entry gone", "both gone"):
            pieces[seq] = replace(piece, entry=entry, sha256=sha256)
    return Source(pieces, links, len(record) if last is None else last)


words = st.lists(st.sampled_from("abc"), min_size=1, max_size=9)
damages = st.dictionaries(st.integers(1, 9), st.sampled_from(KINDS_OF_DAMAGE), max_size=9)


@given(words, damages, st.integers(0, 9))
def test_whatever_a_backup_has_comes_back_as_it_was(
    said: list[str], damage: dict[int, str], kept: int
) -> None:
    """Up to a backup's last entry, whose link the ledger has, the record is whole whatever was damaged."""
    assume(
        "link" not in damage.get(min(kept, len(said)), "")
        and "both" not in damage.get(min(kept, len(said)), "")
    )
    record = chained(said)
    backup = record[:kept]
    chosen = list(choose(source(record, damage), [source(backup)]))
    assert chosen[: len(backup)] == backup
    sound = [piece for piece in record[kept:] if not damage.get(piece.entry.seq)]
    assert [piece for piece in chosen if piece in sound] == sound


@given(words, damages)
def test_without_a_backup_only_the_damaged_entries_are_lost_or_unproved(
    said: list[str], damage: dict[int, str]
) -> None:
    """Every entry that can be read is taken once, in order; those not damaged just as they were."""
    record = chained(said)
    own = source(record, damage)
    chosen = {piece.entry.seq: piece for piece in choose(own, [])}
    assert list(chosen) == sorted(own.pieces)
    for piece in record:
        if not damage.get(piece.entry.seq):
            assert chosen[piece.entry.seq] == piece


@given(words, words, words, st.data())
def test_no_entry_of_a_way_that_was_left_is_taken(
    said: list[str], left: list[str], went: list[str], data: st.DataObject
) -> None:
    """After a restore, entries set aside do not come back where the ledger's own next entry can be read."""
    common = chained(said)
    own = chained(["restored", *went, "the last"], common)
    aside = chained(left, common)
    gone = data.draw(st.integers(len(common) + 1, len(own) - 1))
    chosen = list(choose(source(own, {gone: "both gone"}), [source(aside)]))
    assert all(piece in own for piece in chosen)


@given(words, words)
def test_a_tail_that_was_cut_off_comes_back(said: list[str], tail: list[str]) -> None:
    """The latest backup goes on where the ledger ends."""
    record = chained([*said, *tail])
    assert list(choose(source(record[: len(said)]), [source(record), source(record[:1])])) == record


@given(words, st.sampled_from(["link gone", "link changed"]))
def test_a_record_that_lost_all_its_links_is_whole_from_a_backup(said: list[str], how: str) -> None:
    """Entries without a link of their own contradict no backup."""
    record = chained(said)
    own = source(record, {piece.entry.seq: how for piece in record})
    assert list(choose(own, [source(record)])) == record
