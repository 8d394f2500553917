"""What will be short: how many portions, which limit binds, and what would cure it."""
