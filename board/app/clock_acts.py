"""What is written about clocks: which time is right, and the times of a stretch put right as one."""

from datetime import timedelta

from board.app.acting import Told, said
from board.app.alarm_acts import answer
from board.app.clock import BoardClock
from board.app.session import Session
from board.house.wording import count, said_set
from board.ledger import write
from board.ledger.clock_right import timed
from board.ledger.clocks import Doubt
from board.ledger.doubtful import clocks
from board.ledger.state import RightClock
from board.views.alarms_of_clock import Apart, clock_alarm, settled


def settle(session: Session, apart: Apart, right: RightClock) -> Told:
    """Record by the right time which one that is, and go by it; the board's answers the alarm too."""
    if right is RightClock.BOARD:
        with session.ledger.together():
            write.settle_clock(session.ledger, right, apart.ahead, **said(session))
            answer(session, [clock_alarm(session.house, apart)], "the board's time is right")
        return Told(settled(right, apart.ahead))
    shows = apart.shows
    write.settle_clock(session.ledger, right, apart.ahead, who=session.who, at=shows, noted_at=shows)
    if isinstance(session.clock, BoardClock):
        session.clock.follow_machine()
    return Told(settled(right, apart.ahead))


def of_this_boot(session: Session) -> list[Doubt]:
    """What wrong clocks wrote since this machine started, where it can be put right by a known shift."""
    boot = session.ledger.uptime().boot
    found = [doubt for doubt in clocks(session.ledger).doubts if doubt.boot == boot and boot]
    return [doubt for doubt in found if doubt.ahead is not None and timed(session.ledger, doubt)]


def put_times_right(session: Session, doubt: Doubt, ahead: timedelta) -> Told:
    """Put the times of all that a wrong clock wrote right by one shift."""
    right = write.put_times_right(session.ledger, doubt, ahead, **said(session))
    return Told(f"{count(len(right), 'time')} put {said_set(-ahead)}")
