"""No test is held against this machine: each tells its own times, and none is timed, since it may be busy."""

from hypothesis import HealthCheck, settings

from board.ledger.open import Ledger
from board.ledger.uptime import unknown

Ledger.uptime = staticmethod(unknown)

settings.register_profile("untimed", settings(), deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("untimed")
