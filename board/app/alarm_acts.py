"""What answering an alarm writes: a reason or a time on the alarm, or what was done about food."""

from collections.abc import Sequence
from datetime import datetime

from board.app.acting import Told, said, tell
from board.app.session import Session
from board.app.watch_acts import meant
from board.ledger import write
from board.ledger.answering import Rung
from board.ledger.state import Entry
from board.views.alarm import Alarm
from board.views.reference import parts


def answer(session: Session, alarms: Sequence[Alarm], why: str) -> Told:
    """Answer alarms with a reason; what fails a rule is answered by what was done about it."""
    given = said(session)
    with session.ledger.together():
        entries = [
            write.act_on(session.ledger, meant(alarm.about), why, **given)
            if alarm.about
            else write.answer_alarm(session.ledger, _rung(alarm), why, **given)
            for alarm in alarms
        ]
    return _told(session, entries, f"{len(alarms)} alarms answered")


def put_off(session: Session, alarms: Sequence[Alarm], until: datetime) -> Told:
    """Put alarms off until then."""
    with session.ledger.together():
        entries = [
            write.put_off_alarm(session.ledger, _rung(alarm), until, **said(session)) for alarm in alarms
        ]
    return _told(session, entries, f"{len(alarms)} alarms put off")


def _told(session: Session, entries: Sequence[Entry], several: str) -> Told:
    told = [tell(session, entry) for entry in entries]
    return told[0] if len(told) == 1 else Told(several, min(1, sum(one.entries for one in told)))


def _rung(alarm: Alarm) -> Rung:
    day, load = parts(alarm.load) if alarm.load else (None, None)
    return Rung(alarm.key, alarm.level, alarm.says, load, day)
