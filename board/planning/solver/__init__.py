"""The plan as a constraint model, and what no plan can beat; the only folder that imports OR-Tools."""
