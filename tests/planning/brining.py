"""A small house that boils and chills its brines, covers meat in tubs, and makes its glaze in the rest."""

from pathlib import Path

from board.house.model import House
from tests.planning.by_hand import written

CUTS = """
[turkey-breast]
mass = "3 kg"
[[turkey-breast.prep]]
what = "brine"
recipe = "bird-brine"
work = { fixed = "10 min" }
gap = ["8 h", "16 h"]

[chicken-half]
mass = "1 kg"
[[chicken-half.prep]]
what = "brine"
recipe = "bird-brine"
work = { fixed = "10 min" }
gap = ["3 h", "6 h"]

[ham-boneless]
rest = ["20 min", "1 h"]
[[ham-boneless.prep]]
what = "inject"
recipe = "needle-brine"
work = { fixed = "10 min" }
gap = ["24 h", "60 h"]
"""

ITEMS = """
[sliced]
cut = "turkey-breast"
portions_a_piece = 8
price = 12

[bird]
cut = "chicken-half"
portions_a_piece = 1
price = 12

[ham]
cut = "ham-boneless"
portions_a_piece = 10
price = 14
[[ham.finish]]
what = "glaze"
recipe = "honey-glaze"
work = { fixed = "5 min" }
"""

BIRD_BRINE = """
[bird-brine]
kind = "brine"
use = "60 %"
pickup = "5 %"
make = {{ fixed = "15 min" }}
keeps = "2 days"
immersed = "8 h"
{}
[[bird-brine.ingredient]]
name = "water"
amount = "10 kg"
[[bird-brine.ingredient]]
name = "salt"
amount = "6 % of water"
"""

OTHERS = """
[needle-brine]
kind = "brine"
use = "8 %"
pickup = "7.5 %"
make = { fixed = "15 min" }
keeps = "2 days"
[[needle-brine.ingredient]]
name = "water"
amount = "1 kg"
[[needle-brine.ingredient]]
name = "salt"
amount = "100 g"
[[needle-brine.ingredient]]
name = "sugar"
amount = "100 g"

[honey-glaze]
kind = "glaze"
use = "3 %"
make = { fixed = "15 min" }
keeps = "4 h"
[[honey-glaze.ingredient]]
name = "butter"
amount = "1 parts"
allergens = ["milk"]
[[honey-glaze.ingredient]]
name = "sugar"
amount = "1 parts"
[[honey-glaze.ingredient]]
name = "honey"
amount = "1 parts"
"""

POTS = """
[pot]
volume = "{pot}"
count = {pots}
[tub]
name = "tub"
volume = "60 L"
takes = "{takes}"
count = {tubs}
"""

ICE_BATH = 'boil = "10 min"\nchill = "ice-bath"\nvessel = "pot"\ncontainer = "tub"'
NO_POTS = 'ready_after = "3 h"'

SERVICES = """
[lunch]
at = "12:00"
lasts = "3 h"
rule = "FREQ=DAILY"
promises = { sliced = 32, bird = 6 }
"""


def brining(
    folder: Path,
    making: str = ICE_BATH,
    *,
    walk_in: str = "500 kg",
    services: str = SERVICES,
    pot: str = "40 L",
    pots: int = 2,
    takes: str = "45 kg",
    tubs: int = 6,
    **files: str,
) -> House:
    """The house, its bird brine made in a way, with so many pots and tubs."""
    house = f'\nname = "Two Tubs"\nzone = "America/Chicago"\nchance = "90 %"\nwalk_in = "{walk_in}"\n'
    changes = {
        "house": house,
        "cuts": CUTS,
        "items": ITEMS,
        "recipes": BIRD_BRINE.format(making) + OTHERS,
        "containers": POTS.format(pot=pot, pots=pots, takes=takes, tubs=tubs),
        "services": services,
    }
    return written(folder, **{**changes, **files})
