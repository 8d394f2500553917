"""How long a plan is looked for where nobody says: the same on the board and from the shell."""

SECONDS = 3.0
