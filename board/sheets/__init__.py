"""The views as plain text, for a printer or a script."""
