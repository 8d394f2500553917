"""Every board in a test looks the same everywhere: colour as asked, nothing blinks or moves."""

import os
from pathlib import Path

import pytest

OURS = [name for name in os.environ if name.startswith("BOARD_") and name != "BOARD_PICTURES"]


@pytest.fixture(autouse=True)
def steady_terminal(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Neither colour, settings nor person comes from the machine the tests run on."""
    for name in (*OURS, "NO_COLOR", "TEXTUAL_THEME", "LC_ALL", "LC_CTYPE", "LANG"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("BOARD_SETTINGS", str(tmp_path / "settings" / "settings.toml"))
    monkeypatch.setenv("TEXTUAL_ANIMATIONS", "none")
