"""The plain pair that parts are added to, and another body to run it on."""

from msgspec.structs import replace

from studio.demo import ORCHARD_BODY
from studio.design.plain import plain_design

PLAIN = plain_design(ORCHARD_BODY)

OTHER = replace(ORCHARD_BODY, hip_girth=1120.0, waist_girth=900.0, inside_leg=750.0)
"""Larger round, shorter in the leg."""
