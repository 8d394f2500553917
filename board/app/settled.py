"""Which settings hold: flag before environment before file before what suits the machine."""

import os
from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from pathlib import Path
from typing import Any

from board.app.settings import THEME_WORDS, Settings
from board.app.settings_file import BACKUP_VARIABLE, read_settings, settings_path, theme_named
from board.app.theme import PLAIN

FLAG, ENVIRONMENT, FILE, USUAL = "a flag", "the environment", "the file", "usual here"
_YES = ("1", "yes", "true", "on")
_NO = ("0", "no", "false", "off")
_POOR_TERMINALS = ("linux", "vt", "ansi", "cons", "sun")  # beginnings of TERM: few glyphs, few colours
_SWITCHES = {"BOARD_ASCII": "ascii", "BOARD_MOTION": "motion", "BOARD_BELL": "bell"}


@dataclass(frozen=True, slots=True)
class Settled:
    """The settings that hold, where each came from and is kept, and what is wrong with what was told."""

    settings: Settings
    path: Path
    source: Mapping[str, str] = field(default_factory=dict)
    faults: tuple[str, ...] = ()


def settle(flags: Mapping[str, object], environment: Mapping[str, str] = os.environ) -> Settled:
    """The settings that hold on this machine now; `flags` are those given, by the setting's name."""
    path = settings_path(environment)
    written = read_settings(path)
    told, faults = _in_environment(environment)
    values: dict[str, Any] = {}
    source: dict[str, str] = {}
    layers = (
        (USUAL, suiting(environment)),
        (FILE, written.values),
        (ENVIRONMENT, told),
        (FLAG, {key: value for key, value in flags.items() if value is not None}),
    )
    for name, layer in layers:
        values.update(layer)
        source.update(dict.fromkeys(layer, name))
    known = {each.name for each in fields(Settings)}
    settings = Settings(**{key: value for key, value in values.items() if key in known})
    return Settled(settings, path, source, (*written.faults, *faults))


def suiting(environment: Mapping[str, str]) -> dict[str, object]:
    """What suits this terminal where nobody says: plain glyphs and its own colours where it has no others."""
    terminal = environment.get("TERM", "").lower()
    poor = terminal.startswith(_POOR_TERMINALS)
    locale = next((v for n in ("LC_ALL", "LC_CTYPE", "LANG") if (v := environment.get(n, ""))), "")
    other = bool(locale) and "utf8" not in locale.lower().replace("-", "")
    found: dict[str, object] = {}
    if poor or other:
        found["ascii"] = True
    if poor:
        found["theme"] = PLAIN
    return found


def _in_environment(environment: Mapping[str, str]) -> tuple[dict[str, object], list[str]]:
    """What variables say, and a line for each that says what is not allowed."""
    values: dict[str, object] = {}
    faults: list[str] = []
    if environment.get("NO_COLOR", ""):  # as agreed among terminal programs: not empty means no colour
        values["theme"] = PLAIN
    if word := environment.get("BOARD_THEME", ""):
        try:
            values["theme"] = theme_named(word.lower())
        except ValueError:
            faults.append(_refused("BOARD_THEME", word, ", ".join(THEME_WORDS)))
    for variable, key in _SWITCHES.items():
        word = environment.get(variable, "")
        if not word:
            continue
        if word.lower() in (*_YES, *_NO):
            values[key] = word.lower() in _YES
        else:
            faults.append(_refused(variable, word, "yes or no"))
    if who := environment.get("BOARD_WHO", ""):
        values["who"] = who
    if to := environment.get(BACKUP_VARIABLE, ""):
        values["backup_to"] = to
    return values, faults


def _refused(variable: str, found: str, allowed: str) -> str:
    return f"{variable} in the environment: found {found!r}, allowed {allowed}"
