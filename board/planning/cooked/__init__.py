"""Whether each load, cooked and rested as planned, is cooked safe: judged before anyone cooks it."""
