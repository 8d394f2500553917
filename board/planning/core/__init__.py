"""Scheduling in general, by CP-SAT: projects with resources, modes and time lags (RCPSP/max with modes)."""
