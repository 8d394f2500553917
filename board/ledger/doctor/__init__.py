"""Whether a ledger is sound, and mending it from its own record and its backups."""
