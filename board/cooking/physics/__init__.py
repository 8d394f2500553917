"""The physics of a piece of meat: what it is made of, how it is shaped, what its surface meets."""
