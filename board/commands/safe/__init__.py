"""`board safe`: what a record of temperatures proves."""

from board.commands.safe.command import command

__all__ = ["command"]
