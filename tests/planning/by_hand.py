"""A small house as a pitmaster would write it: two pits, a night hand, an opening pair, lunch and supper."""

from pathlib import Path

from board.house.files import read_house
from board.house.model import House

FILES = {
    "house.toml": """
name = "Two Fires"
zone = "America/Chicago"
chance = "90 %"
wage_per_hour = 18
""",
    "pits.toml": """
[long]
kind = "offset"
area = "1.6 m2"
setpoint = ["225 F", "300 F"]
warm_up = "1 h"
fuel = "oak"
fuel_rate = "4 kg/h"
fuel_price = "0.3 / kg"

[box]
kind = "cabinet"
area = "0.9 m2"
setpoint = ["200 F", "290 F"]
warm_up = "40 min"
fuel = "charcoal"
fuel_rate = "0.5 kg/h"
fuel_price = "1 / kg"
""",
    "holds.toml": """
[bench]
area = "1.2 m2"
[cabinet]
area = "1.6 m2"
setpoint = "65 C"
""",
    "cuts.toml": """
[brisket]
[[brisket.prep]]
what = "rub"
recipe = "beef-rub"
work = { fixed = "5 min", each = "2 min" }
gap = ["30 min", "14 h"]

[chicken-half]
[[chicken-half.prep]]
what = "brine"
recipe = "bird-brine"
work = { fixed = "10 min" }
gap = ["3 h", "12 h"]
""",
    "items.toml": """
[sliced]
cut = "brisket"
portion = "170 g"
price = 17
[[sliced.finish]]
what = "slice"
work = { fixed = "2 min", each = "3 min" }

[bird]
cut = "chicken-half"
portions_a_piece = 1
price = 12
""",
    "recipes.toml": """
[beef-rub]
kind = "rub"
use = "2.5 %"
make = { fixed = "10 min" }
keeps = "30 days"
[[beef-rub.ingredient]]
name = "salt, table"
amount = "1 kg"
role = "salt"
[[beef-rub.ingredient]]
name = "pepper, black, ground"
amount = "1 kg"

[bird-brine]
kind = "brine"
use = "100 %"
make = { fixed = "15 min" }
ready_after = "2 h"
keeps = "2 days"
[[bird-brine.ingredient]]
name = "water"
amount = "10 kg"
role = "water"
[[bird-brine.ingredient]]
name = "salt, table"
amount = "6 % of water"
role = "salt"
""",
    "crew.toml": """
[people.nan]
[people.abe]
[people.dot]
[shifts.night]
people = ["nan"]
at = "20:00"
lasts = "10 h"
rule = "FREQ=DAILY"
[shifts.day]
people = ["abe", "dot"]
at = "05:30"
lasts = "15 h"
rule = "FREQ=DAILY"
""",
    "services.toml": """
[lunch]
at = "11:00"
lasts = "3 h"
rule = "FREQ=DAILY"
promises = { sliced = 60, bird = 14 }

[supper]
at = "18:00"
lasts = "3 h"
rule = "FREQ=DAILY"
promises = { bird = 12 }
""",
}


def written(folder: Path, **changes: str | None) -> House:
    """The house, with some files replaced (`pits=...`), read from a folder."""
    changed = {f"{stem}.toml" if "." not in stem else stem: text for stem, text in changes.items()}
    for name, text in (FILES | changed).items():
        if text is not None:
            (folder / name).write_text(text, encoding="utf-8")
    return read_house(folder)
