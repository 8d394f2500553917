"""Plans broken on purpose, one fault each, to see that the independent check finds it."""
