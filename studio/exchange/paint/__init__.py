"""Painting pieces with Qt, for paper, pictures and the screen."""
