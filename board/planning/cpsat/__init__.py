"""The plan as a constraint model for CP-SAT; the only folder that imports the solver."""
