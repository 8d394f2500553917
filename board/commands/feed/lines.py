"""Whole lines out of bytes that come in any pieces."""

import re

_ENDS = re.compile(rb"\r\n|\n|\r")


class Lines:
    """Cuts bytes into lines as they come; of one that is too long it keeps the beginning alone."""

    def __init__(self, longest: int) -> None:
        self.rest = b""
        self._longest = longest
        self._skips = False

    def add(self, data: bytes) -> list[bytes]:
        """The lines that end within these bytes, without their ends."""
        *whole, self.rest = _ENDS.split(self.rest + data)
        if whole and self._skips:
            whole, self._skips = whole[1:], False
        found = [line[: self._longest + 1] for line in whole]
        if len(self.rest) > self._longest or self._skips:
            if not self._skips:
                found.append(self.rest[: self._longest + 1])
            self.rest, self._skips = b"", True
        return found

    def last(self) -> list[bytes]:
        """What is left when no more comes: a line without an end."""
        rest, self.rest = self.rest, b""
        return [rest] if rest else []
