"""`board batch`: a brine, cure, rub or glaze scaled to the meat.

`command` names the options and works the card out; `told` answers in sentences, `document` writes JSON,
`minded` gathers cautions and the cooking rule.
"""

from board.commands.batch.command import command

__all__ = ["command"]
