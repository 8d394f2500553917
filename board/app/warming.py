"""What can wait until the first screen is painted: modules of other views, and collecting garbage."""

import gc
import sys
from importlib import import_module
from threading import Thread

# what the next keys are likely to need; asked for in this order
SOON = (
    "board.app.screens.tomorrow",
    "board.app.screens.service",
    "board.app.screens.load",
    "board.app.screens.batches",
    "board.app.screens.record",
    "board.app.entering",
    "board.app.guiding",
    "board.app.keeping",
    "board.app.marking",
    "board.app.closing",
)


def hold_garbage() -> None:
    """Collect no garbage while the program loads: hardly any is made, and looking takes long."""
    gc.disable()


def warm() -> None:
    """Load in the background what comes soon; then collect garbage again."""
    Thread(target=_load, daemon=True).start()


def load(*names: str) -> None:
    """Import modules that stay; garbage is not looked for meanwhile, nor among them ever after.

    Looking through all that a large library brings holds up the screen for a third of a second.
    """
    if all(name in sys.modules for name in names):
        return
    gc.disable()
    try:
        for name in names:
            import_module(name)
    finally:
        gc.freeze()
        gc.enable()


def _load() -> None:
    load(*SOON)
    gc.enable()  # also where all of it was loaded already
