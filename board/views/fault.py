"""What is said when the program itself fails: where, and a sentence for whoever stands before it."""

import traceback

from board.views.obeyed import harmless

CODE = 70  # EX_SOFTWARE of BSD's sysexits(3): 1 would be an answer, 2 what somebody typed
SENTENCE = (
    "board: the program failed, not you. What it showed as recorded is on disk.\n"
    "Open it again with: board\n"
    "The lines above tell whoever mends it where it failed."
)


def told(error: BaseException) -> str:
    """Where it failed, without the values at hand there, for a PIN may be among them; then the sentence."""
    return harmless("".join(traceback.format_exception(error)) + "\n" + SENTENCE)
