"""Faults made on purpose: killed programs, power cuts, disks that fail, many hands at once."""
