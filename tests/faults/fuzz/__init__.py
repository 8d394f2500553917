"""Spoilt input, everywhere that input is taken: `python -m tests.faults.fuzz`."""
