"""The draft-along sheet: a design told so that another maker can draw it with ruler and pencil."""

from studio.exchange.along.sheet import sheet_of
from studio.exchange.along.stage import Figure, Sheet, Stage, Stroked

__all__ = ["Figure", "Sheet", "Stage", "Stroked", "sheet_of"]
