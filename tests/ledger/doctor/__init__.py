"""Looking whether a ledger is sound, and mending it."""
