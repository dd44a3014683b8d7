"""window."""
