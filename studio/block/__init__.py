"""The block: drafted for a body, or made of the panels of a drawing."""

from studio.block.drafting import draft, handbook_start
from studio.block.panel import Block, Dart, Panel

__all__ = ["Block", "Dart", "Panel", "draft", "handbook_start"]
