"""How one entry takes the state of a thing further, by what the thing is."""
