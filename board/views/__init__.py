"""What each view says, as plain data, for the screen and the printed sheet alike."""
