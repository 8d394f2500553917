"""`board cook`: how long one cook takes.

`command` names the options; `asked` turns them into a cook, `told` answers in sentences, `document` in JSON.
"""

from board.commands.cook.command import command

__all__ = ["command"]
