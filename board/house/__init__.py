"""The house: its pits, cuts, recipes, crew and hours, and the files that tell of them."""
