"""A terminal shift board for a barbecue house."""

__version__ = "0.1.0"
