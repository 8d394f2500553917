"""The settings file of this machine: where it is, what it says, its faults, and how it is written."""

import os
import sys
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path

from board.app.settings import THEME_WORDS, theme_word
from board.errors import BoardError, HouseFileError
from board.house.folder import folder_meant
from board.house.put_file import put_file
from board.house.tables import Table, read_toml
from board.house.text_file import is_there, read_text

VARIABLE = "BOARD_SETTINGS"
BACKUP_VARIABLE = "BOARD_BACKUP_TO"
FILE = "settings.toml"
_HEAD = "How this machine shows the board; F4 on the board changes it too."


@dataclass(frozen=True, slots=True)
class Written:
    """What a settings file says: the values that hold, by their key, and a line for each fault."""

    values: Mapping[str, object] = field(default_factory=dict)
    faults: tuple[str, ...] = ()


def settings_path(environment: Mapping[str, str] = os.environ, platform: str = sys.platform) -> Path:
    """Where this machine keeps its settings.

    BOARD_SETTINGS names the file itself; else it is in the folder where the machine keeps such things (XDG
    Base Directory Specification; APPDATA on Windows).
    """
    if named := environment.get(VARIABLE, ""):
        return Path(named)
    home = _home(environment)
    if platform == "win32":
        return Path(environment.get("APPDATA") or home) / "board" / FILE
    told = environment.get("XDG_CONFIG_HOME", "")
    folder = Path(told) if Path(told).is_absolute() else home / ".config"
    return folder / "board" / FILE


def _home(environment: Mapping[str, str]) -> Path:
    """The folder of whoever is at the keys; where they have none, one in which nobody keeps anything."""
    try:
        return Path(environment.get("HOME") or Path("~").expanduser())
    except RuntimeError:
        return Path("/")


def read_settings(path: Path) -> Written:
    """What the file says; nothing where there is none. A value that is not allowed is left out and told."""
    if not is_there(path):
        return Written()
    try:
        table = read_toml(path)
    except BoardError as error:
        return Written({}, (str(error),))
    values: dict[str, object] = {}
    faults: list[str] = []
    for key, read in _READERS.items():
        if table.has(key):
            try:
                values[key] = read(table, key)
            except HouseFileError as error:
                faults.append(str(error))
    values["keys"], wrong = _keys(table)
    return Written(values, (*faults, *wrong, *_unknown(table)))


def backup_to(environment: Mapping[str, str] = os.environ) -> Path | None:
    """The folder that backups are copied into, by the environment or the settings file; None for none."""
    named = environment.get(BACKUP_VARIABLE, "") or read_settings(settings_path(environment)).values.get(
        "backup_to", ""
    )
    return folder_meant(str(named)) if named else None


def theme_named(word: str) -> str:
    """The theme of a word such as dark, or of its own name; raises ValueError for another."""
    named = THEME_WORDS.get(word, word)
    if named not in THEME_WORDS.values():
        raise ValueError(word)
    return named


def _theme(table: Table, key: str) -> str:
    allowed = "one of " + ", ".join(THEME_WORDS)
    return table.value(key, None, lambda raw: theme_named(str(raw)), allowed)


def _keys(table: Table) -> tuple[Mapping[str, str], list[str]]:
    """The keys that were changed, by act, and what is wrong with others."""
    keys: dict[str, str] = {}
    faults: list[str] = []
    try:
        told = table.table("keys")
    except HouseFileError as error:
        return {}, [str(error)]
    for act in told.keys if told else ():
        try:
            keys[act] = told.text(act) if told else ""
        except HouseFileError as error:
            faults.append(str(error))
    return keys, faults


_READERS: Mapping[str, Callable[[Table, str], object]] = {
    "theme": _theme,
    "ascii": lambda table, key: table.flag(key, False),
    "motion": lambda table, key: table.flag(key, True),
    "bell": lambda table, key: table.flag(key, True),
    "who": lambda table, key: table.text(key),
    "backup_to": lambda table, key: table.text(key),
}
KNOWN = (*_READERS, "keys")


def _unknown(table: Table) -> list[str]:
    """A line for each key that means nothing here."""
    found = []
    for key in table.keys:
        alone = Table(table.file, (), {key: None})
        alone.asked.update(KNOWN)
        with suppress(HouseFileError):
            alone.done()
            continue
        found.append(f"{table.file}, {key}: found an unknown key, known here: {', '.join(KNOWN)}")
    return found


def write_setting(path: Path, key: str, value: str | bool) -> None:
    """Write one setting, leaving the rest of the file and its comments as they are.

    The file is written beside its place and then put there, so that no reader meets half of it; only its
    owner may read it.

    Raises:
        BoardError: it cannot be written, or holds something that is no TOML.
    """
    import tomlkit
    from tomlkit.exceptions import TOMLKitError

    try:
        if is_there(path):
            document = tomlkit.parse(read_text(path))
        else:
            document = tomlkit.document()
            document.add(tomlkit.comment(_HEAD))
    except (TOMLKitError, RecursionError) as error:
        said = str(error).splitlines()[0]
        raise BoardError(f"{path} cannot be changed here: {said}; put it right or remove it") from None
    document[key] = theme_word(value) if key == "theme" and isinstance(value, str) else value
    try:
        path.resolve().parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    except (OSError, RuntimeError) as error:
        raise BoardError(f"{path} cannot be written: {getattr(error, 'strerror', None) or error}") from None
    put_file(path, tomlkit.dumps(document).encode())
