"""The plan as a constraint model; beside bound/ the only folder that imports OR-Tools."""
