"""What is asked over a view: a temperature, a note, a signature."""
