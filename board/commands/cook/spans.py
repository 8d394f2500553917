"""A likely range as JSON."""

from board.house.spans import Span


def span_document(span: Span, decimals: int = 1) -> dict[str, float]:
    """Its three figures, rounded."""
    return {name: round(getattr(span, name), decimals) for name in ("p10", "p50", "p90")}
