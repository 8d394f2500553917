"""Writing a page to a file that a person named."""

from pathlib import Path

from board.errors import BoardError


def write_file(path: Path, content: bytes) -> None:
    """Write a page where it was asked for, in place of what stood there.

    Raises:
        BoardError: the file cannot be written there.
    """
    try:
        path.write_bytes(content)
    except OSError as error:
        raise BoardError(f"{path} cannot be written: {error.strerror or error}; name another file") from error
