"""`board feed`: take in what probes send, from a pipe, a growing file or a broker.

`command` names the options; `running` is the feed from beginning to end, `intake` the way of a message into
the ledger; `pipe` and `csv_feed` (over `tail`, `lines`, `file_place`) are where messages come from; `placing`
and `showing` are the subcommands.
"""

from board.commands.feed.command import command

__all__ = ["command"]
