"""Brines, cures, rubs and glazes: recipes scaled, and what they do to the meat."""
