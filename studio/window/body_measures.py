"""What the measures of a body are called on the screen, where each is taken, and which a draft
cannot do without.
"""

from __future__ import annotations

from collections.abc import Collection

BODY_LABELS = {
    "waist_girth": "Waist girth",
    "hip_girth": "Hip girth",
    "body_rise": "Body rise",
    "inside_leg": "Inside leg",
    "waist_to_hip": "Waist to hip",
    "crotch_length": "Crotch length",
    "thigh_girth": "Thigh girth",
    "knee_girth": "Knee girth",
    "ankle_girth": "Ankle girth",
    "heel_girth": "Heel girth",
    "waist_height": "Waist height",
    "stature": "Stature",
    "hand_girth": "Hand girth",
}

REQUIRED = ("waist_girth", "hip_girth", "inside_leg")

WHERE_TAKEN = {
    "waist_girth": "Round the natural waist, the tape lying easy.",
    "hip_girth": "Round the fullest place of the hips.",
    "body_rise": "Seated: from the waist down to the chair. Left out, it is the waist height less "
    "the inside leg.",
    "inside_leg": "Standing: from the crotch straight down to the floor.",
    "waist_to_hip": "Down the side. Left out, it is two thirds of the rise.",
    "crotch_length": "From the front waist between the legs to the back waist.",
    "thigh_girth": "Round the thigh, just below the crotch.",
    "knee_girth": "Round the bent knee.",
    "ankle_girth": "Round the ankle.",
    "heel_girth": "Round heel and instep: the foot's way through the hem.",
    "waist_height": "Standing: from the waist to the floor.",
    "stature": "The whole height, without shoes.",
    "hand_girth": "Round the flat hand at the knuckles, the thumb laid in: its way into a pocket.",
}
"""How each is measured, by the words of ISO 8559-1:2017 where it has them, else common practice."""

FIT_TOLD = {
    "waist_ease": "How much wider than the body the waist is, all round.",
    "hip_ease": "How much wider than the body the hips are, all round.",
    "thigh_ease": "Round each thigh there is at least so much room.",
    "knee_ease": "Round each knee there is at least so much room.",
    "crotch_ease": "How much longer than the body the crotch seam is.",
    "hem_girth": "Round the finished leg at its hem.",
    "inseam_stretch": "How much shorter the back inseam is, to be stretched in: a few mm at most. "
    "The ease of the inseam follows.",
}
"""What each number of the block does (common practice)."""


def still_needed(taken: Collection[str]) -> str:
    """Which measures a draft still lacks, in words; "" when it has all."""
    lacking = [BODY_LABELS[name].lower() for name in REQUIRED if name not in taken]
    if not {"body_rise", "waist_height"} & set(taken):
        lacking.append("body rise or waist height")
    return ", ".join(lacking)
