"""Advances many members together, from loading through wraps and moves to the end of the rest."""
