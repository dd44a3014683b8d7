"""canvas."""
