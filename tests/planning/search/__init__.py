"""The search: its parts, and what always holds of them."""
