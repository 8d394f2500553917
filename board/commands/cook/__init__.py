"""`board cook`: how long one cook takes.

`command` names the options, `answer` does the sums; `asked` turns options into a cook, `told` answers in
sentences, `plot` draws, `document` writes JSON, `why` accounts for the number.
"""

from board.commands.cook.command import command

__all__ = ["command"]
