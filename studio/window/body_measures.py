"""What the measures of a body are called on the screen, and which a draft cannot do without."""

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
