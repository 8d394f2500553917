"""What a record proves whose times were written by clocks that did not agree.

Between readings that one machine counted, it is known how much time passed, whatever its clock showed. Else
a record shows nothing good of time, and something bad only where that is so by each clock it may have been.
"""

from dataclasses import replace

from board.safety.verdict import Answer, CameTo, Held, Verdict


def by_count(verdict: Verdict, doubt: str) -> Verdict:
    """A verdict by the time that passed on the machine, which says so; `doubt` is what was written how."""
    return replace(verdict, why=f"{verdict.why} {doubt}; the time that passed is by the machine's own count.")


def by_either(verdict: Verdict, doubt: str, settle: str, *, fails: bool) -> Verdict:
    """A verdict where nobody knows which times are right; `fails` where it does whichever those are.

    `doubt` is what was written how, `settle` what would settle it.
    """
    untimed = replace(
        verdict,
        held=tuple(Held(row.at_or_above_c, 0.0, row.needed_seconds) for row in verdict.held),
        lethality_log10=None,
        came_to=tuple(CameTo(one.at_or_below_c, None, one.within_minutes) for one in verdict.came_to),
        cautions=(),
    )
    if fails:
        return replace(untimed, why=f"{verdict.why} {doubt}; it fails whichever is right.")
    why = f"{doubt}, so how much time passed between its readings is not shown."
    return replace(untimed, answer=Answer.NOT_SHOWN, why=why, settle=settle)
