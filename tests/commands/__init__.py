"""The manners all commands share."""
