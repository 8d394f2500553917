"""What helps a late load, and an early one."""
