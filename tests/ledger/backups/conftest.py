"""The ledger of the other ledger tests, for its backups."""

from tests.ledger.conftest import ledger, path, planned

__all__ = ["ledger", "path", "planned"]
