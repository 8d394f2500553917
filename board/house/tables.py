"""A strict reader of TOML tables: typed values, one clear line when wrong, no key left unread."""

import re
import tomllib
from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import date, datetime, time
from difflib import get_close_matches
from enum import Enum
from pathlib import Path
from typing import TypeVar

from board.errors import HouseFileError, QuantityError
from board.house import kinds, units
from board.house.spans import Spread
from board.house.text_file import read_text
from board.house.years import ALLOWED as YEARS
from board.house.years import known_day

T = TypeVar("T")
E = TypeVar("E", bound=Enum)

ID = re.compile(r"[a-z0-9][a-z0-9_-]{0,39}")
ID_ALLOWED = "an id of lower-case letters, digits and dashes such as pork-shoulder"
LONGEST_FOUND = 60
LONGEST_LINE = 10_000  # a name of thousands of parts between dots would be read for hours
MOST_PEOPLE_COUNT = 1_000_000


class Table:
    """One table of a house file; each key is read by a method that knows what is allowed.

    `done()` refuses keys nobody asked for and names the nearest that is known.
    """

    def __init__(self, file: str, path: tuple[str, ...], values: Mapping[str, object]) -> None:
        self.file = file
        self.path = path
        self.asked: set[str] = set()
        self._values = values

    @property
    def id(self) -> str:
        """The table's own name in its file, checked to be fit for an id."""
        name = self.path[-1]
        if not ID.fullmatch(name):
            raise HouseFileError(f"{self.file}: found [{_shown(name)}], allowed {ID_ALLOWED}")
        return name

    @property
    def keys(self) -> tuple[str, ...]:
        """The keys given, in the order of the file."""
        return tuple(self._values)

    def refuse(self, key: str, allowed: str) -> HouseFileError:
        """The error for a key whose value is not allowed: file, key, found, allowed."""
        return HouseFileError(
            f"{self.file}, {self._where(key)}: found {_quoted(self._values.get(key))}, allowed {allowed}"
        )

    def done(self) -> None:
        """Refuse the first key that no reader asked for; call when every key has been read."""
        for key in self._values:
            if key not in self.asked:
                near = get_close_matches(key, sorted(self.asked), n=1, cutoff=0.5)
                known = f"did you mean {near[0]}?" if near else f"known here: {', '.join(sorted(self.asked))}"
                raise HouseFileError(f"{self.file}, {self._where(key)}: found an unknown key, {known}")

    def has(self, key: str) -> bool:
        """Whether the key is given."""
        self.asked.add(key)
        return key in self._values

    def value(self, key: str, default: T | None, read: Callable[[object], T], allowed: str) -> T:
        """The key's value through `read`, whose ValueError, TypeError or QuantityError means not allowed."""
        if not self.has(key):
            if default is None:
                raise self.refuse(key, allowed)
            return default
        try:
            return read(self._values[key])
        except (ValueError, TypeError, OverflowError, QuantityError):
            raise self.refuse(key, allowed) from None

    def text(self, key: str, default: str | None = None) -> str:
        """A text of one line."""
        return self.value(key, default, _text, "a text on one line")

    def texts(self, key: str) -> tuple[str, ...]:
        """A list of texts, empty when absent."""
        return self.value(key, (), lambda raw: tuple(map(_text, _items(raw))), 'a list such as ["a", "b"]')

    def flag(self, key: str, default: bool) -> bool:
        """True or false."""
        return self.value(key, default, _flag, "true or false")

    def number(self, key: str, default: float | None = None, low: float = 0, high: float = 1e9) -> float:
        """A plain number from low to high."""
        allowed = f"a number from {low:g} to {high:g}"
        return self.value(key, default, lambda raw: _number(raw, low, high), allowed)

    def whole(self, key: str, default: int | None = None, high: int = MOST_PEOPLE_COUNT) -> int:
        """A whole number, nought or more."""
        return self.value(key, default, lambda raw: whole_number(raw, high), "a whole number such as 12")

    def choice(self, key: str, of: type[E], default: E | None = None) -> E:
        """One of an enumeration's words."""
        return self.value(key, default, of, "one of " + ", ".join(str(each.value) for each in of))

    def one_of(self, key: str, words: Sequence[str], default: str | None = None) -> str:
        """One of a few words."""
        return self.value(
            key, default, lambda raw: words[words.index(_text(raw))], "one of " + ", ".join(words)
        )

    def mass_kg(self, key: str, default: float | None = None) -> float:
        """A mass above nought, in kilograms."""
        return self._above_nought(key, default, units.parse_mass_kg, kinds.MASS)

    def mass_or_none_kg(self, key: str, default: float | None = None) -> float:
        """A mass that may be nought, in kilograms."""
        return self.value(key, default, _measured(units.parse_mass_kg), kinds.MASS.allowed)

    def volume_l(self, key: str, default: float | None = None) -> float:
        """A volume above nought, in litres."""
        return self._above_nought(key, default, units.parse_volume_l, kinds.VOLUME)

    def area_m2(self, key: str, default: float | None = None) -> float:
        """An area above nought, in square metres."""
        return self._above_nought(key, default, units.parse_area_m2, kinds.AREA)

    def length_m(self, key: str, default: float | None = None) -> float:
        """A length, in metres."""
        return self.value(key, default, _measured(units.parse_length_m), kinds.LENGTH.allowed)

    def minutes(self, key: str, default: float | None = None) -> float:
        """A length of time, in minutes."""
        return self.value(key, default, _measured(units.parse_minutes), kinds.TIME.allowed)

    def minutes_above_nought(self, key: str, default: float | None = None) -> float:
        """A length of time that is not nought, in minutes."""
        return self._above_nought(key, default, units.parse_minutes, kinds.TIME)

    def temperature_c(self, key: str, default: float | None = None) -> float:
        """A temperature, in °C."""
        return self.value(key, default, _measured(units.parse_temperature_c), kinds.TEMPERATURE.allowed)

    def difference_k(self, key: str, default: float | None = None) -> float:
        """A difference of temperature, in kelvins."""
        read = _measured(units.parse_temperature_difference_k)
        return self.value(key, default, read, kinds.DIFFERENCE.allowed)

    def mass_rate_kg_h(self, key: str, default: float | None = None) -> float:
        """A mass an hour, in kilograms an hour."""
        return self.value(key, default, _measured(units.parse_mass_rate_kg_h), kinds.MASS_RATE.allowed)

    def price_a_kg(self, key: str, default: float | None = None) -> float:
        """A price for a mass, a kilogram."""
        return self.value(key, default, _measured(units.parse_price_a_kg), kinds.PRICE.allowed)

    def fraction(self, key: str, default: float | None = None, high: float = 1.0) -> float:
        """A fraction from nought to `high`, as a per cent or a number."""
        allowed = f"{kinds.FRACTION.allowed}, at most {high:.0%}"
        return self.value(key, default, lambda raw: fraction(raw, high), allowed)

    def temperatures_c(self, key: str, default: tuple[float, float] | None = None) -> tuple[float, float]:
        """A lowest and a highest temperature, in °C."""
        return self._pair(key, default, units.parse_temperature_c, '["225 F", "275 F"], lowest first')

    def minutes_pair(self, key: str, default: tuple[float, float] | None = None) -> tuple[float, float]:
        """A shortest and a longest time, in minutes."""
        return self._pair(key, default, units.parse_minutes, '["1 h", "4 h"], shortest first')

    def spread(self, key: str, read: Callable[[str], float], example: str, default: Spread | None) -> Spread:
        """A low, a usual and a high value, given as a list of three."""
        return self.value(
            key, default, lambda raw: _spread(raw, _measured(read)), f"{example}, low, usual, high"
        )

    def day(self, key: str, default: date | None = None) -> date:
        """A date."""
        return self.value(key, default, as_date, f"a date such as 2026-12-19, {YEARS}")

    def days(self, key: str) -> tuple[date, ...]:
        """A list of dates, empty when absent."""
        allowed = f"dates such as [2026-12-25], {YEARS}"
        return self.value(key, (), lambda raw: tuple(map(as_date, _items(raw))), allowed)

    def time_of_day(self, key: str, default: time | None = None) -> time:
        """A time of day on the house's wall clock."""
        return self.value(key, default, as_time, 'a time of day such as "11:00"')

    def times_of_day(self, key: str) -> tuple[time, ...]:
        """A list of times of day."""
        allowed = 'times of day such as ["11:00", "12:00"]'
        return self.value(key, None, lambda raw: tuple(map(as_time, _items(raw))), allowed)

    def table(self, key: str) -> "Table | None":
        """A table within this one, None when absent."""
        if not self.has(key):
            return None
        return Table(self.file, (*self.path, key), self.value(key, None, _mapping, "a table of keys"))

    def needed_table(self, key: str) -> "Table":
        """A table within this one that must be there."""
        found = self.table(key)
        if found is None:
            raise self.refuse(key, "a table of keys")
        return found

    def is_table(self, key: str) -> bool:
        """Whether the key holds a table."""
        return isinstance(self._values.get(key), dict)

    def is_list(self, key: str) -> bool:
        """Whether the key holds a list."""
        return isinstance(self._values.get(key), list)

    def tables(self, key: str) -> "list[Table]":
        """A list of tables within this one, [[path.key]] in the file, empty when absent."""
        nothing: list[dict[str, object]] = []
        raw = self.value(
            key, nothing, lambda raw: [_mapping(each) for each in _items(raw)], "a list of tables"
        )
        return [Table(self.file, (*self.path, f"{key}[{n}]"), row) for n, row in enumerate(raw, 1)]

    def named(self) -> "Iterator[Table]":
        """Every key of this table as a table of its own: [north], [south]."""
        for key in self._values:
            yield self.needed_table(key)

    def _above_nought(
        self, key: str, default: float | None, read: Callable[[str], float], kind: kinds.Kind
    ) -> float:
        def positive(raw: object) -> float:
            value = _measured(read)(raw)
            if value <= 0:
                raise ValueError(value)
            return value

        return self.value(key, default, positive, f"{kind.allowed}, above nought")

    def _pair(
        self, key: str, default: tuple[float, float] | None, read: Callable[[str], float], allowed: str
    ) -> tuple[float, float]:
        def upright(raw: object) -> tuple[float, float]:
            low, high = map(_measured(read), _items(raw))
            if low > high:
                raise ValueError(raw)
            return low, high

        return self.value(key, default, upright, allowed)

    def _where(self, key: str) -> str:
        return ".".join((*self.path, _shown(key)))


def read_toml(path: Path) -> Table:
    """The whole file as a table; raises HouseFileError in one line when it cannot be read."""
    return toml_table(path.name, read_text(path))


def toml_table(name: str, text: str) -> Table:
    """A file's text as a table; raises HouseFileError in one line when it is not TOML."""
    if long := next((n for n, line in enumerate(text.split("\n"), 1) if len(line) > LONGEST_LINE), 0):
        raise HouseFileError(f"{name}, line {long}: found a line without end, allowed {LONGEST_LINE} letters")
    try:
        return Table(name, (), tomllib.loads(text))
    except tomllib.TOMLDecodeError as error:
        raise HouseFileError(f"{name}: {_toml_fault(str(error))}") from None
    except ValueError:  # Python reads no number of more than 4300 digits
        raise HouseFileError(f"{name}: found a number of thousands of digits, allowed a few") from None
    except RecursionError:
        raise HouseFileError(f"{name}: found tables nested too deep, allowed a few levels") from None


def fraction(raw: object, high: float) -> float:
    """A fraction up to `high` from a per cent or a number; raises ValueError beyond it."""
    if not isinstance(raw, (str, int, float)):
        raise TypeError(raw)
    value = units.parse_fraction(raw)
    if value > high:
        raise ValueError(raw)
    return value


def whole_number(raw: object, high: int = MOST_PEOPLE_COUNT) -> int:
    """A whole number from nought to `high`; raises ValueError."""
    if isinstance(raw, bool) or not isinstance(raw, int) or not 0 <= raw <= high:
        raise ValueError(raw)
    return raw


def as_date(raw: object) -> date:
    """A TOML date, or the text of one; raises ValueError, also outside the years a house knows."""
    if isinstance(raw, datetime):
        raise TypeError(raw)
    return known_day(raw if isinstance(raw, date) else date.fromisoformat(_text(raw)))


def as_time(raw: object) -> time:
    """A TOML time of day, or the text of one such as 11:00 or 7:30; raises ValueError."""
    if isinstance(raw, time):
        return raw.replace(microsecond=0)
    found = re.fullmatch(r"(\d{1,2}):(\d{2})(?::00)?", _text(raw))  # spreadsheets write the seconds too
    if not found:
        raise ValueError(raw)
    return time(int(found[1]), int(found[2]))


def _toml_fault(message: str) -> str:
    twice = re.match(r"Cannot (?:declare|overwrite).*?\(([^)]*)\)|Cannot overwrite a value", message)
    at = re.search(r"\(at (line \d+|end of document)", message)
    place = f", {at[1]}" if at else ""
    if twice:
        return f"found the same name twice{place}, allowed one table of a name and one value of a key"
    return f"cannot be read as TOML{place}: {message.split(' (at', maxsplit=1)[0][:100]}"


def _measured(read: Callable[[str], float]) -> Callable[[object], float]:
    """A reader of quantities that refuses bare numbers and other things that are not text."""
    return lambda raw: read(_text(raw))


def _text(raw: object) -> str:
    if not isinstance(raw, str) or not raw.strip() or not raw.isprintable():
        raise ValueError(raw)
    return raw.strip()


def _flag(raw: object) -> bool:
    if not isinstance(raw, bool):
        raise TypeError(raw)
    return raw


def _number(raw: object, low: float, high: float) -> float:
    if isinstance(raw, bool) or not isinstance(raw, (int, float)) or not low <= raw <= high:
        raise ValueError(raw)
    return float(raw)


def _items(raw: object) -> list[object]:
    if not isinstance(raw, list):
        raise TypeError(raw)
    return raw


def _mapping(raw: object) -> dict[str, object]:
    if not isinstance(raw, dict):
        raise TypeError(raw)
    return raw


def _spread(raw: object, read: Callable[[object], float]) -> Spread:
    low, usual, high = map(read, _items(raw))
    return Spread(low, usual, high)


def _shown(text: str) -> str:
    """A short, printable form of something a file says."""
    plain = "".join(c if c.isprintable() else "?" for c in text)
    return plain if len(plain) <= LONGEST_FOUND else plain[: LONGEST_FOUND - 1] + "…"


def _quoted(raw: object) -> str:
    if raw is None:
        return "nothing"
    if isinstance(raw, str):
        return f"'{_shown(raw)}'"
    if isinstance(raw, bool):
        return str(raw).lower()
    return "a table" if isinstance(raw, dict) else _shown(str(raw))
