"""Whatever lies where a file of text should: read whole, or told in one line, and never waited for."""

import os
import socket
from pathlib import Path

import pytest

from board.errors import HouseFileError
from board.house.tables import read_toml
from board.house.text_file import LARGEST_FILE, read_text


def test_a_byte_order_mark_and_the_line_ends_of_another_system_are_no_text(tmp_path):
    """What an editor adds by itself is left out."""
    path = tmp_path / "house.toml"
    path.write_bytes(b"\xef\xbb\xbfa\r\nb\n")
    assert read_text(path) == "a\nb\n"


@pytest.mark.parametrize(
    ("raw", "told"),
    [
        ("name".encode("utf-16"), "line 1: found UTF-16, allowed a file saved as UTF-8"),
        ("a\nJalapeño".encode("latin-1"), "line 2: found text that is not UTF-8, allowed"),
        (b"#" * (LARGEST_FILE + 1), "found more than 20 MB, allowed"),
    ],
)
def test_another_encoding_and_a_file_too_long_are_told(tmp_path, raw, told):
    """The line says how to save it."""
    path = tmp_path / "orders.csv"
    path.write_bytes(raw)
    with pytest.raises(HouseFileError, match=told) as error:
        read_text(path)
    assert "\n" not in str(error.value)


def test_a_line_without_end_is_told_before_it_is_read(tmp_path):
    """Ten million names between dots would hold the reader of TOML up for hours."""
    path = tmp_path / "house.toml"
    path.write_text("a = 1\nb" + ".b" * 9_000_000 + " = 1\n")
    with pytest.raises(HouseFileError, match=r"house\.toml, line 2: found a line without end, allowed 10000"):
        read_toml(path)


def _pipe(path):
    os.mkfifo(path)


def _socket(path):
    with socket.socket(socket.AF_UNIX) as listening:
        listening.bind(str(path))


def _loop(path):
    path.symlink_to(path)


def _endless(path):
    path.symlink_to("/dev/zero")


@pytest.mark.parametrize(
    ("make", "told"),
    [
        (lambda path: path.mkdir(), "Is a directory"),
        (_pipe, "found a pipe"),
        (_socket, "No such device or address"),
        (_loop, "Too many levels of symbolic links"),
        (_endless, "found a device"),
        (lambda path: path.symlink_to("nowhere"), "No such file"),
    ],
)
def test_what_is_no_file_is_told_at_once(tmp_path, make, told):
    """A pipe nobody writes to holds nothing up, and a device that never ends is not read."""
    path = tmp_path / "pits.toml"
    make(path)
    with pytest.raises(HouseFileError, match=told) as error:
        read_text(path)
    assert "allowed a file of text" in str(error.value)


def test_a_pipe_that_a_shell_opened_is_read(tmp_path):
    """As of `board safe <(sort log.csv)`."""
    reads, writes = os.pipe()
    os.write(writes, b"time,core_c\n")
    os.close(writes)
    try:
        assert read_text(Path(f"/dev/fd/{reads}")) == "time,core_c\n"
    finally:
        os.close(reads)
