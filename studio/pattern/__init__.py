"""From a design to finished pieces and findings."""

from studio.pattern.model import Pattern, StepMade
from studio.pattern.parts import with_parts
from studio.pattern.places import with_places_kept
from studio.pattern.road import evaluate, forget

__all__ = ["Pattern", "StepMade", "evaluate", "forget", "with_parts", "with_places_kept"]
