"""Bodies to draft for, invented, from a small child to the largest."""

from __future__ import annotations

from studio.design.body import Body, Fit

MIDDLE = Body(name="middle", waist_girth=720, hip_girth=960, inside_leg=740, body_rise=275)

BODIES: tuple[tuple[Body, Fit], ...] = (
    (MIDDLE, Fit()),
    (
        Body(
            name="worker, all measures",
            waist_girth=850,
            hip_girth=1000,
            inside_leg=820,
            waist_height=1095,
            waist_to_hip=190,
            thigh_girth=590,
            knee_girth=390,
            ankle_girth=235,
            heel_girth=345,
            crotch_length=720,
            stature=1800,
        ),
        Fit(hip_ease=60, waist_ease=20, hem_girth=420, inseam_stretch=4),
    ),
    (
        Body(
            name="waist over hip",
            waist_girth=1250,
            hip_girth=1100,
            inside_leg=780,
            body_rise=285,
            crotch_length=760,
        ),
        Fit(),
    ),
    (
        Body(
            name="very tall",
            waist_girth=780,
            hip_girth=960,
            inside_leg=1000,
            body_rise=320,
            stature=2150,
            crotch_length=800,
        ),
        Fit(),
    ),
    (
        Body(
            name="very small",
            waist_girth=580,
            hip_girth=800,
            inside_leg=600,
            body_rise=215,
            stature=1380,
            thigh_girth=480,
        ),
        Fit(hip_ease=25, waist_ease=0),
    ),
    (
        Body(
            name="child of six",
            waist_girth=545,
            hip_girth=630,
            inside_leg=510,
            body_rise=190,
            knee_girth=270,
            heel_girth=240,
            stature=1160,
        ),
        Fit(),
    ),
    (
        Body(
            name="toddler",
            waist_girth=480,
            hip_girth=500,
            inside_leg=300,
            body_rise=165,
            stature=820,
            crotch_length=440,
        ),
        Fit(waist_ease=20),
    ),
    (
        Body(
            name="large",
            waist_girth=1500,
            hip_girth=1520,
            inside_leg=740,
            body_rise=330,
            thigh_girth=850,
            knee_girth=520,
            crotch_length=960,
        ),
        Fit(),
    ),
    (
        Body(
            name="strong thighs",
            waist_girth=760,
            hip_girth=980,
            inside_leg=780,
            body_rise=265,
            thigh_girth=670,
            knee_girth=420,
            crotch_length=690,
        ),
        Fit(thigh_ease=60, knee_ease=60),
    ),
    (
        Body(
            name="small waist, full hip",
            waist_girth=640,
            hip_girth=1080,
            inside_leg=760,
            body_rise=290,
            crotch_length=770,
        ),
        Fit(),
    ),
    (
        Body(
            name="low hip line, narrow leg",
            waist_girth=700,
            hip_girth=930,
            inside_leg=760,
            body_rise=270,
            waist_to_hip=225,
        ),
        Fit(hem_girth=320, hip_ease=80),
    ),
    (
        Body(
            name="wide leg",
            waist_girth=700,
            hip_girth=930,
            inside_leg=760,
            body_rise=270,
            waist_to_hip=150,
        ),
        Fit(hem_girth=700, hip_ease=60),
    ),
)
