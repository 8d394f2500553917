"""How long a cook takes: heat and water in a piece of meat, as an ensemble."""
