"""Which of the entries found in a damaged ledger and its backups are the right ones, by their links. Pure."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from board.ledger.doctor.record import has_its_document
from board.ledger.doctor.salvage import Source
from board.ledger.links import START, line, link
from board.ledger.pieces import Piece

LINK = re.compile("[0-9a-f]{64}")


def choose(own: Source, backups: Sequence[Source]) -> Iterator[Piece]:
    """The entries by number: each proved by its links where it can be, else as found; lost ones left out.

    Args:
        own: what could be read of the ledger itself.
        backups: what could be read of its backups, the latest first.
    """
    previous: str | None = START
    for seq in range(1, max(source.last for source in (own, *backups)) + 1):
        chosen = _proved(seq, previous, own, backups) or _as_found(seq, previous, own, backups)
        previous = own.links.get(seq) if chosen is None else chosen.sha256
        if chosen is not None:
            yield _with_document(chosen, backups)


def _proved(seq: int, previous: str | None, own: Source, backups: Sequence[Source]) -> Piece | None:
    """The entry that follows the link before, and that nothing after it contradicts."""
    if previous is None:
        return None
    there = own.pieces.get(seq)
    if there is not None and there.follows(previous):
        return there
    if there is not None and _leads_on(_linked(there, previous), own, backups):
        return _linked(there, previous)
    others = (source.pieces[seq] for source in backups if seq in source.pieces)
    return next(
        (one for one in others if one.follows(previous) and _leads_on(one, own, backups) is not False), None
    )


def _leads_on(piece: Piece, own: Source, backups: Sequence[Source]) -> bool | None:
    """Whether the ledger's own links and entries go on from an entry; None where nothing of them can tell."""
    seq, sha256, otherwise = piece.entry.seq, piece.sha256, None
    while sha256 is not None and own.links.get(seq) != sha256:
        after = own.pieces.get(seq + 1)
        if after is not None and after.follows(sha256):
            return True
        if after is not None and _is_elsewhere(after, own):
            otherwise = False  # the ledger went another way there, unless more of it says that it did not
        onward = _next_of(seq + 1, sha256, backups)
        seq, sha256 = seq + 1, onward.sha256 if onward else None
    return otherwise if sha256 is None else True


def _is_elsewhere(after: Piece, own: Source) -> bool:
    """Whether an entry that follows another link than was asked stands firm, by what is beside it."""
    seq, sha256 = after.entry.seq, after.sha256
    if sha256 is None or not LINK.fullmatch(str(sha256)):
        return False
    before, onward = own.links.get(seq - 1), own.pieces.get(seq + 1)
    return after.follows(before) if before is not None else onward is None or onward.follows(sha256)


def _next_of(seq: int, previous: str, backups: Sequence[Source]) -> Piece | None:
    """The entry of a backup that follows a link."""
    found = (source.pieces[seq] for source in backups if seq in source.pieces)
    return next((piece for piece in found if piece.follows(previous)), None)


def _as_found(seq: int, previous: str | None, own: Source, backups: Sequence[Source]) -> Piece | None:
    """The entry with nothing to prove it: the ledger's own, or a backup's that leads on to what it has."""
    others = (source.pieces[seq] for source in backups if seq in source.pieces)
    piece = own.pieces.get(seq) or next((one for one in others if _leads_on(one, own, backups)), None)
    return piece and (piece if piece.sha256 is not None else _linked(piece, previous or START))


def _linked(piece: Piece, previous: str) -> Piece:
    """The entry with the link that it must have after the one before."""
    return replace(piece, sha256=link(previous, line(piece.entry, piece.up)))


def _with_document(piece: Piece, backups: Sequence[Source]) -> Piece:
    """A plan's entry with the document that has its digest; without any where it is lost."""
    if piece.entry.kind != "plan" or has_its_document(piece):
        return piece
    others = (source.pieces.get(piece.entry.seq) for source in backups)
    documents = [replace(piece, document=other.document) for other in others if other is not None]
    return next((one for one in documents if has_its_document(one)), replace(piece, document=None))
