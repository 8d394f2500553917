"""The SQLite record of what happened, and the state that follows from it."""
