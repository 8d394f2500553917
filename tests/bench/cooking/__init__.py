"""Measures the cooking model, table by table."""
