"""A pit may be brought to another setpoint once its meat is wrapped, with the meat on."""

from dataclasses import dataclass
from datetime import date, timedelta

from board.house.spans import Span
from board.planning import cook_times
from tests.planning.traps import exact

DAY = date(2026, 6, 10)
WRAPPED_AT = Span(240.0, 240.0, 240.0)
WRAPPED = 'wrap = { in = "paper", at = "70 C", then = "140 C", work = { fixed = "5 min" } }'


def house_of(folder, pits):
    """Loins wrapped at four hours, in a pit that may be brought to 140 then."""
    cut = exact.cut("pork-loin", "0.1", low=110, high=140).replace('wrap = "none"', WRAPPED)
    return exact.house(
        folder,
        pits=pits,
        cuts=cut.replace('"110 C", "110 C"', '"110 C", "112 C"'),
        items=exact.item("slice", "pork-loin"),
        services=exact.service("lunch", "11:00", slice=4),
    )


def timed(monkeypatch):
    """Cooks of ten hours at one setpoint, of six where the air changes; wrapped after four."""

    def estimated(cooks, members, seed):
        return tuple(Cooked(Span(*[600.0 if c.air is None else 360.0] * 3)) for c in cooks)

    monkeypatch.setattr(cook_times, "_estimated", estimated)


@dataclass(frozen=True)
class Cooked:
    """A cook of exactly so long that is wrapped after four hours."""

    minutes: Span
    wrap_minutes: Span = WRAPPED_AT


def test_the_pit_is_turned_up_when_the_meat_is_wrapped_where_that_is_cheaper(tmp_path, monkeypatch):
    """Six hours of fuel and a change of setpoint against ten hours: on at 04:55, turned up at 09:00."""
    timed(monkeypatch)
    pits = exact.pit("box", 1).replace('fuel_rate = "0.5 kg/h"', 'fuel_rate = "3 kg/h"')
    plan = exact.planned(house_of(tmp_path, pits), DAY)
    (load,) = plan.loads
    assert load.then_c == 140.0
    assert load.turn_at == load.load_at + timedelta(hours=4, minutes=5) == load.wrap_at
    assert load.needed_at - load.load_at == timedelta(hours=6, minutes=5)
    (turned,) = [step for step in plan.steps if step.what == "set"]
    assert (turned.at, turned.pit, turned.who is not None) == (load.turn_at, "box", True)


def test_a_pit_that_does_not_reach_it_is_not_turned(tmp_path, monkeypatch):
    """A pit that goes no hotter than 130 cooks all ten hours as it is."""
    timed(monkeypatch)
    plan = exact.planned(house_of(tmp_path, exact.pit("box", 1, high=130)), DAY)
    (load,) = plan.loads
    assert (load.turn_at, load.then_c) == (None, None)
    assert load.needed_at - load.load_at == timedelta(hours=10, minutes=5)
