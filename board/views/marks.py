"""The last day of a date-marked lot, its days in the freezer not counted."""

from datetime import date

from board.house.model import House
from board.ledger.facts import WatchFacts
from board.safety import date_marks
from board.views.watching import frozen_days, made_on


def last_day(house: House, watch: WatchFacts, today: date) -> date:
    """The last day on which a lot is used; the day it was made is day 1."""
    return date_marks.last_day(made_on(house, watch), frozen_days(watch, today), place=house.jurisdiction)
