"""How often a pit can burn anew in one plan."""

from board.planning.problem import Mode, Part, Problem


def setpoints_of(mode: Mode) -> tuple[float, ...]:
    """The setpoints a mode asks for, one after the other."""
    return (mode.setpoint_c,) if mode.turn is None else (mode.setpoint_c, mode.turn.setpoint_c)


def runs_worth_having(problem: Problem, pit: str) -> int:
    """No plan without empty fires has more runs of a pit than this, beside those known.

    Each run has meat that begins in it or turns into it, and the meat of two runs is not on at once: so many
    runs as parts, or as shortest stays follow each other, in each stretch of time the parts could be on.
    """
    spans = sorted(span for part in problem.parts if (span := _span(part, pit)) is not None)
    runs, stretch = 0, spans[:1]
    for span in spans[1:]:
        if span[0] >= max(end for _, end, _, _ in stretch):
            runs += _most(stretch)
            stretch = []
        stretch.append(span)
    return runs + _most(stretch)


def _span(part: Part, pit: str) -> tuple[int, int, int, int] | None:
    """A part's first and last slot on a pit, its shortest stay, and the runs it takes part in."""
    modes = [mode for mode in part.modes if mode.pit == pit and mode.starts]
    if not modes:
        return None
    stays = [part.load + mode.d90 for mode in modes]
    last = max(mode.starts[-1] + stay for mode, stay in zip(modes, stays, strict=True))
    return min(mode.starts[0] for mode in modes), last, min(stays), max(len(setpoints_of(m)) for m in modes)


def _most(stretch: list[tuple[int, int, int, int]]) -> int:
    if not stretch:
        return 0
    begin, end = stretch[0][0], max(end for _, end, _, _ in stretch)
    each = max(phases for *_, phases in stretch)
    shortest = max(1, min(stay for _, _, stay, _ in stretch))
    return each * min(len(stretch), max(1, (end - begin) // shortest))
