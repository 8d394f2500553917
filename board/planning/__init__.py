"""From promises to a plan: demand, loads, chains, pits, crew, shortfalls."""
