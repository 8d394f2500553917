"""Days with a trap in them, each with its answer argued by hand."""
