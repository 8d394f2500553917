"""`board serve`: the same board in a browser, let in by a passphrase.

`command` names the options; `listening` says where may be listened, `door` how many are heard at once,
`passphrase` and `tries` who is let in, `visits` for how long, `gate` looks at every request; `process` is one
board in a process of its own, `boards` all of them with the pages they are shown on, `site` what a browser
may ask for, `running` the whole from beginning to end.
"""

from board.commands.serve.command import command

__all__ = ["command"]
