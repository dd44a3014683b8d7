"""Yokewright: a drafting canvas for people who make their own trousers."""

__version__ = "0.3.0"
