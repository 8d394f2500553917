"""What to know of a dose of cure besides the verdict: mix-ups, too little, what bacon also takes."""

import re
from collections.abc import Iterator

from board.batches.limits import Code, Method, Product, edition
from board.batches.nitrite import SLACK, ingoing_of
from board.batches.scaled_batch import ScaledBatch, ScaledIngredient
from board.batches.tables import table

_PERCENT_IN_NAME = re.compile(r"(\d+(?:\.\d+)?)\s*%")
_ACCELERATOR = re.compile(r"ascorb|erythorb", re.IGNORECASE)
_ACID = re.compile(r"(ascorbic|erythorbic) acid", re.IGNORECASE)


def dose_notes(batch: ScaledBatch, ppm: float, method: Method, code: Code) -> tuple[str, ...]:
    """What to know of a dose, `ppm` of ingoing sodium nitrite; nothing where there is no cure in it."""
    return tuple(_notes(batch, ppm, method, code))


def _notes(batch: ScaledBatch, ppm: float, method: Method, code: Code) -> Iterator[str]:
    for line in batch.cures:
        yield from _misread_label(line)
        if line.nitrite_g > 0:
            yield from _mix_up(line.name, 100 * line.nitrite_g / line.grams, ppm)
    if ppm <= 0:
        return
    least = float(table("nitrite_limits")["least"]["ppm"])
    if ppm < least * (1 - SLACK):
        yield (
            f"{ppm:.0f} ppm of nitrite is less than the {least:g} ppm usually asked of a cured product "
            "kept cold: treat it as fresh meat"
        )
    if read := edition(code):
        yield str(read["also"])
    if code.place == "us":
        yield from _accelerators(batch, method, code.product)
        if code.product is Product.BACON:
            yield _skin_on(ppm)


def _misread_label(line: ScaledIngredient) -> Iterator[str]:
    """A strength in the blend's name that is not the strength it is reckoned with."""
    named = _PERCENT_IN_NAME.search(line.name)
    stated = 100 * line.nitrite_g / line.grams
    if named and abs(float(named[1]) - stated) > 0.02 * stated:
        yield f"{line.name} is reckoned as {stated:.3g} % nitrite, but is called {named[1]} %: read the pack"


def _mix_up(name: str, percent: float, ppm: float) -> Iterator[str]:
    """The tenfold slip between a 6.25 % and a 0.6 % blend: the dose is odd, and right for the other blend."""
    blend = table("nitrite_limits")["blend"]
    weak, strong = blend["usual_percent"]
    low, high = blend["plausible_ppm"]
    slip = float(blend["strong_percent"]) / float(blend["weak_percent"])
    if percent >= strong[0] and ppm > high and (ppm > 1_000 or low <= ppm / slip <= high):
        yield f"{name} at {percent:.3g} % nitrite gives {ppm:.0f} ppm: was the dose meant for a 0.6 % blend?"
    elif weak[0] <= percent <= weak[1] and 0 < ppm < low and ppm * slip >= low:
        yield f"{name} at {percent:.3g} % nitrite gives {ppm:.0f} ppm: was the dose meant for a 6.25 % blend?"
    elif not (weak[0] <= percent <= weak[1] or strong[0] <= percent <= strong[1]):
        yield f"{name} is stated as {percent:.3g} % nitrite; blends are usually 6.25 %, or 0.5 to 0.9 %"


def _accelerators(batch: ScaledBatch, method: Method, product: Product) -> Iterator[str]:
    """Ascorbate or erythorbate: what pumped bacon must have, and the most for anything else."""
    limits = table("nitrite_limits")
    found = _accelerator_ppm(batch, method)
    if product is Product.BACON and method is Method.PUMPED:
        asked = float(limits["bacon"]["accelerator_ppm"])
        has = f"this batch leaves {found:.0f} ppm" if found else "this batch has none"
        yield f"pumped bacon also takes {asked:g} ppm of sodium ascorbate or erythorbate; {has}"
        return
    most, acid_most = float(limits["accelerators"]["ppm"]), float(limits["accelerators"]["acid_ppm"])
    acid = _accelerator_ppm(batch, method, acid=True)
    if (found - acid) / most + acid / acid_most > 1 + SLACK:
        what = "ascorbic or erythorbic acid" if acid == found else "sodium ascorbate or erythorbate"
        may = acid_most if acid == found else most
        beside = f" beside {acid:.0f} of its acid" if 0 < acid < found else ""
        yield f"{found - acid or acid:.0f} ppm of {what}{beside} is over the {may:.0f} ppm it may have"


def _accelerator_ppm(batch: ScaledBatch, method: Method, *, acid: bool = False) -> float:
    """What of it, or of its acid alone, goes into the meat, mg/kg of green meat, the way its nitrite does."""
    asked = _ACID if acid else _ACCELERATOR
    grams = sum(line.grams for line in batch.ingredients if asked.search(line.name))
    return ingoing_of(batch, method, grams)


def _skin_on(ppm: float) -> str:
    less = float(table("nitrite_limits")["bacon"]["skin_on_less"])
    return (
        f"with the skin on, the handbook takes a tenth off: {ppm:.0f} ppm would be {(1 - less) * ppm:.0f} ppm"
    )
