"""The board on the screen."""
