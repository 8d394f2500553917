"""Every board in a test looks the same everywhere: colour as asked, nothing blinks or moves."""

import pytest


@pytest.fixture(autouse=True)
def steady_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    """Neither colour, theme nor person comes from the machine the tests run on."""
    for name in ("NO_COLOR", "BOARD_THEME", "BOARD_WHO", "BOARD_LEDGER", "TEXTUAL_THEME"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("TEXTUAL_ANIMATIONS", "none")
