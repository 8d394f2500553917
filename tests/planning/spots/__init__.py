"""Where meat lies: zones and levels of a pit, its doors, benches, holds and the walk-in."""
