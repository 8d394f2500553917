"""Houses whose cooks take exactly so long, so that a whole day can be argued by hand to the minute."""

from dataclasses import dataclass
from pathlib import Path

from board.house.model import House
from board.house.spans import Span
from board.planning import cook_times
from board.planning.planner import plan_day
from tests.planning.by_hand import written


@dataclass(frozen=True)
class ExactCook:
    """What the estimate of one cook answers: its minutes without doubt, and no wrapping."""

    minutes: Span
    wrap_minutes: None = None


def exactly(monkeypatch, **minutes):
    """Let a cook of each cut, named with underscores, take exactly so many minutes."""
    table = {cut.replace("_", "-"): float(m) for cut, m in minutes.items()}

    def estimated(cooks, members, seed):
        return tuple(ExactCook(Span(table[c.cut.id], table[c.cut.id], table[c.cut.id])) for c in cooks)

    monkeypatch.setattr(cook_times, "_estimated", estimated)


CABINET = """
[{name}]
kind = "cabinet"
area = "{area} m2"
setpoint = ["{low} C", "{high} C"]
warm_up = "30 min"
fuel = "charcoal"
fuel_rate = "0.5 kg/h"
fuel_price = "1 / kg"
tend = "{tend} %"
door = "0 min"
change_over = "{change_over} min"
"""

CUT = """
[{name}]
area = "{area} m2"
pit = ["{low} C", "{low} C", "{high} C"]
wrap = "none"
rest = ["{rest} min", "{rest_most} min"]
hold_longest = "{hold} min"
load_work = {{ fixed = "{load} min" }}
pull_work = {{ fixed = "5 min" }}
"""

ITEM = """
[{name}]
cut = "{cut}"
portions_a_piece = 1
price = 10
"""

SERVICE = """
[{name}]
at = "{at}"
lasts = "2 h"
rule = "FREQ=DAILY"
promises = {{ {promises} }}
"""

SHIFT = """
[shifts.{name}]
people = [{people}]
at = "{at}"
lasts = "{hours} h"
rule = "FREQ=DAILY"
"""

HOLDS = '[bench]\narea = "5 m2"\n[warm]\narea = "5 m2"\nsetpoint = "65 C"\n'


def pit(name, area, *, low=100, high=160, tend=0, change_over=20):
    """A cabinet pit without doors to open or fires to tend, unless told."""
    return CABINET.format(name=name, area=area, low=low, high=high, tend=tend, change_over=change_over)


def cut(name, area, *, low=110, high=120, rest=0, rest_most=None, hold=5, load=5):
    """A cut of plain sizes, done at its time, that may be held no longer than told."""
    most = rest if rest_most is None else rest_most
    values = {"area": area, "low": low, "high": high, "rest": rest, "rest_most": most, "hold": hold}
    return CUT.format(name=name, load=load, **values)


def item(name, cut_id):
    """One portion a piece of a cut."""
    return ITEM.format(name=name, cut=cut_id)


def service(name, at, **promises):
    """A service every day at a time, with whole portions of items."""
    return SERVICE.format(name=name, at=at, promises=", ".join(f"{k} = {n}" for k, n in promises.items()))


def crew(*shifts):
    """People and their daily shifts, each as (name, people, begins, hours)."""
    names = dict.fromkeys(person for _, people, _, _ in shifts for person in people)
    people = "".join(f"[people.{person}]\n" for person in names)
    rows = [
        SHIFT.format(name=n, people=", ".join(f'"{p}"' for p in who), at=at, hours=hours)
        for n, who, at, hours in shifts
    ]
    return people + "".join(rows)


ALWAYS = crew(("all", ("abe", "dot"), "00:00", 24))


def house(folder: Path, *, holds=HOLDS, crew=ALWAYS, **files) -> House:
    """A house of these pits, cuts, items and services, with room to rest and hold and two pairs of hands."""
    return written(folder, holds=holds, crew=crew, recipes="", **files)


def planned(house, day, **how):
    """Its plan of a day, searched until nothing better is to be had."""
    return plan_day(house, day, seconds=how.pop("seconds", 5), **how)
