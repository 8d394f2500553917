"""What can wait until the first screen is painted: modules of other views, and collecting garbage."""

import gc
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


def _load() -> None:
    for name in SOON:
        import_module(name)
    gc.freeze()  # what is loaded now stays; looking it through again and again would stall the screen
    gc.enable()
