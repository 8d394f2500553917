"""What a feed says to the person at the command, who may not be there to hear it."""

from contextlib import suppress

import click

from board.views.text import inert


def say(sentence: str) -> None:
    """Say it on standard error; a log on a full disk ends no feed."""
    with suppress(OSError):
        click.echo(f"board: {inert(sentence)}", err=True)
