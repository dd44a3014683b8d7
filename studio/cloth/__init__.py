"""Cloth: what lies there, laying pieces on it, what falls short, and joins of scraps."""
