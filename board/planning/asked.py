"""What lighting or setting a pit asks of it: the setpoint of the meat it is done for."""

from collections.abc import Iterable
from datetime import datetime, timedelta

from board.planning.plan import PlannedLoad

# Moments kept on paper are rounded.
_SAME = timedelta(minutes=1)


def asked_c(loads: Iterable[PlannedLoad], pit: str, at: datetime) -> float | None:
    """The setpoint (°C) a pit is brought to at a moment; None where no load asks for any.

    It is that of the loads it is turned for then, else that of the first load put on it from then on.
    """
    here = [load for load in loads if load.pit == pit]
    turned = (load.then_c for load in here if is_turned_by(load, pit, at))
    later = (load for load in here if load.load_at > at - _SAME)
    first = min(later, key=lambda load: (load.load_at, load.id), default=None)
    found = next((celsius for celsius in turned if celsius is not None), None)
    return first.setpoint_c if found is None and first is not None else found


def is_turned_by(load: PlannedLoad, pit: str | None, at: datetime) -> bool:
    """Whether a load is one for which its pit is brought to another setpoint at a moment."""
    return load.pit == pit and load.turn_at is not None and abs(load.turn_at - at) < _SAME
