"""The units a drawing may be in."""

UNITS_MM = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "inch": 25.4, "foot": 304.8}
"""Millimetres in a unit the maker can name; exact."""
