"""The views as screens, one file each."""
