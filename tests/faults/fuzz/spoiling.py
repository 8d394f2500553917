"""How an input is spoilt: as people, spreadsheets, loggers and broken disks do it, and worse."""

import re
from collections.abc import Callable, Sequence
from random import Random
from typing import TypeVar

T = TypeVar("T")

NUMBERS = (
    *("0", "-1", "-0", "0.0", "1e3", "1e400", "-1e400", "1e-400", "nan", "inf", "-inf", "+5", "1_000", "007"),
    *(
        "1/0",
        "1/2",
        "5 1/0",
        "1 1/2",
        "½",
        "²",
        "٣",
        "１２",
        "6,4",
        "1,200",
        "1.2.3",
        ".",
        "-",
        "0x10",
        "0b1",
    ),
    *("9" * 19, "9" * 400, "9" * 5000, "0." + "1" * 400, "4294967296", "2147483648", "99999", "1e308", "240"),
)
UNITS = (
    *("kg", "lb", "g", "oz", "t", "C", "F", "K", "°C", "°F", "degF", "min", "h", "s", "days", "week", "m2"),
    *(
        "sq ft",
        "in",
        "cm",
        "L",
        "gal",
        "qt",
        "cup",
        "%",
        "kg/h",
        "lb per h",
        "/ kg",
        "g/cup",
        "m",
        "mi",
        "eV",
    ),
    *(
        "x",
        "parsec",
        "delta_degC",
        "dB",
        "",
        " ",
        "kg kg",
        "kg**9999",
        "kg^-1",
        "**",
        "__class__",
        "Δ°C",
        "µ",
    ),
)
TEXTS = (
    *(
        "",
        " ",
        "\t",
        "\n",
        "\x00",
        "\x1b[31m",
        "\x1b]52;c;eA==\x07",
        "\u202e",
        "\u200b",
        "\ufeff",
        "\x85",
        "\x9b",
    ),
    *(
        "é",
        "e\u0301",
        "炉",
        "🍖",
        "\U0010ffff",
        "\ud800",
        "a" * 70,
        "a" * 5000,
        "牛" * 300,
        "%s",
        "{0}",
        "$HOME",
    ),
    *("[bold]", "[/]", "'", '"', "\\", "\\u0000", "=1+1", "@sum", "null", "true", "None"),
)
MOMENTS = (
    *("00:00", "24:00", "23:59:60", "7:5", "25:61", "12.5", "noon", "1130", "5 pm", "0 am", "13 pm", "2h40"),
    *("2026-12-19", "2026-02-30", "0001-01-01", "9999-12-31", "2026-12-19T10:00", "2026-W51-6", "20261219"),
    *("2026-12-19T10:00-07:00", "0001-01-01T00:00+14:00", "9999-12-31T23:59-12:00", "2026-12-19T10:00Z"),
    *(
        "2026-03-08T02:30",
        "2026-11-01T01:30",
        "1969-12-31",
        "2200-01-01",
        "12/19/2026",
        "19.12.2026",
        "45645.5",
    ),
    *(
        "FREQ=DAILY",
        "FREQ=YEARLY;INTERVAL=99999999",
        "FREQ=DAILY;COUNT=0",
        "FREQ=DAILY;UNTIL=1",
        "FREQ=HOURLY",
    ),
    *(
        "FREQ=MONTHLY;BYDAY=5FR;BYSETPOS=-400",
        "FREQ=WEEKLY;BYDAY=XX",
        "RRULE:FREQ=DAILY",
        "FREQ=DAILY;WKST=9",
    ),
    *("FREQ=YEARLY;BYEASTER=400", "FREQ=YEARLY;BYWEEKNO=53;BYDAY=MO", "FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=30"),
)
TOML_VALUES = (
    *("true", "[]", "[[]]", "{}", "[{}]", "{a = 1}", "1979-05-27", "07:32:00", "1979-05-27T07:32:00Z", "''"),
    *('["a", 1]', '["2 h", "1 h", "3 h"]', "[1, 2]", '["1 h"]', "0o17", "[" * 60 + "]" * 60, "[" * 5000),
    *(
        "{a.b.c = 1}",
        "'''\n\n'''",
        '"""\\\n"""',
        "-0.0",
        "+nan",
        "-inf",
        "1e5",
        "9" * 5000,
        "0xffffffffffffffff",
    ),
)
_TOKEN = re.compile(r"[\w.\-]+|[^\w\s]|\s+")
_VALUE = re.compile(r"=[ \t]*([^\n#]+)")
_JSON_VALUE = re.compile(r'"\s*:\s*([^\s,{}\[\]]+|[{\[])')
JSON_VALUES = (
    "null",
    "true",
    "{}",
    "[]",
    "[[]]",
    '{"p10": 1}',
    "-1",
    "1e999",
    "NaN",
    "0.5",
    '""',
    '"x"',
    "9" * 400,
)


class Spoiler:
    """Spoils texts with a random source, borrowing parts from one text for another."""

    def __init__(self, random: Random, borrowed: Sequence[str]) -> None:
        self._random = random
        self._tokens = [token for text in borrowed for token in _TOKEN.findall(text)][:20_000] or ["a"]
        self._lines = [line for text in borrowed for line in text.splitlines()][:20_000] or [""]

    def one_of(self, things: Sequence[T]) -> T:
        """One of some things."""
        return self._random.choice(things)

    def text(self, text: str) -> str:
        """The text with one to four things wrong with it."""
        for _ in range(self._random.choice((1, 1, 1, 2, 2, 3, 4))):
            text = self._random.choice(_WAYS)(self, text)
        return text[:200_000]

    def raw(self, text: str) -> bytes:
        """The text spoilt, as bytes; now and then in another encoding or with bytes that are none."""
        random, spoilt = self._random, self.text(text)
        kind = random.random()
        if kind < 0.02:
            return spoilt.encode(random.choice(("utf-16", "utf-32", "utf-8-sig")), "replace")
        if kind < 0.04:
            return spoilt.encode("latin-1", "replace")
        found = bytearray(spoilt.encode("utf-8", "replace"))
        if kind < 0.08 and found:
            for _ in range(random.randint(1, 4)):
                found[random.randrange(len(found))] = random.randrange(256)
        return bytes(found)

    def nasty(self) -> str:
        """A number, quantity, text or moment that nobody asked for."""
        random = self._random
        kind = random.randrange(5)
        if kind == 0:
            return random.choice(NUMBERS)
        if kind == 1:
            return f"{random.choice(NUMBERS)}{random.choice(('', ' '))}{random.choice(UNITS)}"
        if kind == 2:
            return random.choice(TEXTS)
        if kind == 3:
            return random.choice(MOMENTS)
        return "".join(
            chr(random.choice((random.randrange(128), random.randrange(0x2FFF)))) for _ in range(3)
        )

    def _span(self, text: str) -> tuple[int, int]:
        begin = self._random.randrange(len(text) + 1)
        return begin, min(len(text), begin + self._random.choice((0, 1, 1, 2, 5, 20, 200)))

    def cut_out(self, text: str) -> str:
        """Without some of it."""
        begin, end = self._span(text)
        return text[:begin] + text[end:]

    def cut_off(self, text: str) -> str:
        """As a disk that was full left it."""
        return text[: self._random.randrange(len(text) + 1)]

    def twice(self, text: str) -> str:
        """With some of it again, now and then a thousand times."""
        begin, end = self._span(text)
        return text[:end] + text[begin:end] * self._random.choice((1, 1, 1, 2, 1000)) + text[end:]

    def put_in(self, text: str) -> str:
        """With something nasty anywhere."""
        begin, end = self._span(text)
        return text[:begin] + self.nasty() + text[self._random.choice((begin, end)) :]

    def other_token(self, text: str) -> str:
        """With another word or number in place of one."""
        tokens = list(_TOKEN.finditer(text))
        if not tokens:
            return self.nasty()
        at = self._random.choice(tokens)
        other = self._random.choice(self._tokens) if self._random.random() < 0.5 else self.nasty()
        return text[: at.start()] + other + text[at.end() :]

    def other_value(self, text: str) -> str:
        """With another value of any kind behind an equals sign, or behind the name of a JSON member."""
        is_json = text.lstrip()[:1] in {"{", "["}
        values = list((_JSON_VALUE if is_json else _VALUE).finditer(text))
        if not values:
            return self.other_token(text)
        at = self._random.choice(values)
        other = (
            self._random.choice(JSON_VALUES if is_json else TOML_VALUES)
            if self._random.random() < 0.4
            else '"' + self.nasty().replace("\\", "\\\\").replace('"', '\\"') + '"'
            if self._random.random() < 0.6
            else self._random.choice(NUMBERS)
        )
        return text[: at.start(1)] + other + text[at.end(1) :]

    def other_line(self, text: str) -> str:
        """With a line gone, doubled, moved, or of another file."""
        lines = text.split("\n")
        at = self._random.randrange(len(lines))
        kind = self._random.randrange(4)
        if kind == 0:
            del lines[at]
        elif kind == 1:
            lines.insert(at, lines[at])
        elif kind == 2:
            lines.insert(self._random.randrange(len(lines)), lines.pop(at))
        else:
            lines.insert(at, self._random.choice(self._lines))
        return "\n".join(lines)

    def other_cell(self, text: str) -> str:
        """With another cell in a table."""
        lines = text.split("\n")
        at = self._random.randrange(len(lines))
        cells = re.split("([,;\t])", lines[at])
        cells[self._random.randrange(len(cells))] = self.nasty()
        lines[at] = "".join(cells)
        return "\n".join(lines)


_WAYS: tuple[Callable[[Spoiler, str], str], ...] = (
    *(Spoiler.cut_out, Spoiler.cut_off, Spoiler.twice, Spoiler.put_in, Spoiler.other_line),
    *(Spoiler.other_token, Spoiler.other_token, Spoiler.other_value, Spoiler.other_value, Spoiler.other_cell),
)
