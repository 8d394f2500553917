"""What each limit says when it keeps a load from another time or pit, in few words."""

LIMIT_WORDS = {
    "pit room": "the pit is full",
    "level": "a raw bird would lie above other meat",
    "setpoint": "the pit burns at another setpoint or is still cold",
    "hands": "nobody's hands are free",
    "attention": "the crew already has enough fires and work to watch",
    "bench": "the bench is full",
    "hold": "the hold is full",
    "wait": "it would be held longer than it keeps",
}
