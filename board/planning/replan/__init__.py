"""Planning again: what the committed plan keeps, what a person pins, what a move changes, what differs."""
