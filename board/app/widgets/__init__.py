"""What the screens are drawn with."""
