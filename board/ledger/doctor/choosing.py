"""Which of the entries found in a damaged ledger and its backups are the right ones, by their links. Pure."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from board.ledger.doctor.record import has_its_document
from board.ledger.doctor.salvage import Source
from board.ledger.links import START, line, link
from board.ledger.pieces import Piece


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
    """The entry that follows the link before, and leads to what comes after it."""
    if previous is None:
        return None
    there = own.pieces.get(seq)
    candidates = [there, there and _linked(there, previous), *(source.pieces.get(seq) for source in backups)]
    for piece in candidates:
        if piece is not None and piece.follows(previous) and _leads_on(piece, own, backups):
            return piece
    return None


def _leads_on(piece: Piece, own: Source, backups: Sequence[Source]) -> bool:
    """Whether the ledger's own link there agrees, or the next entry that it has, where there is any."""
    seq = piece.entry.seq
    if own.links.get(seq) == piece.sha256:
        return True
    sha256 = piece.sha256
    for after in range(seq + 1, own.last + 1):
        following = own.pieces.get(after)
        if following is not None:
            return following.follows(sha256 or "")
        between = _next_of(after, sha256, backups)
        if between is None:
            break
        sha256 = between.sha256
    return own.pieces.get(seq) is None


def _next_of(seq: int, previous: str | None, backups: Sequence[Source]) -> Piece | None:
    """The entry of a backup that follows a link."""
    found = (source.pieces[seq] for source in backups if seq in source.pieces)
    return next((piece for piece in found if previous and piece.follows(previous)), None)


def _as_found(seq: int, previous: str | None, own: Source, backups: Sequence[Source]) -> Piece | None:
    """The entry with nothing to prove it: the ledger's own, or one of a backup that nothing contradicts."""
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
