"""Backups of a ledger: made while boards write, proved by opening them, thinned by age, put back."""
