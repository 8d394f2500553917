"""Percentiles of members as a span."""

import numpy as np
from numpy.typing import NDArray

from board.house.spans import Span

Floats = NDArray[np.float64]


def span_of(values: Floats) -> Span:
    """The 10th percentile, median and 90th percentile."""
    p10, p50, p90 = np.percentile(values, (10, 50, 90))
    return Span(float(p10), float(p50), float(p90))
