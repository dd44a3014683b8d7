"""Every tolerance and weight of the solver, with its unit and reason."""

from __future__ import annotations

EXACT_MM = 1e-9
"""Greatest residual after a solve or a release."""

DRAG_MM = 1e-4
"""Residual at which a frame of a drag stops restoring; far under a plotter's line."""

ACCEPT_MM = 1e-3
"""Greatest residual of a state a drag may show."""

STEP_MM = 25.0
"""Greatest move of a node in one step: further, the linear picture says little."""

PULL_MM = 8.0
"""How far ahead a frame looks towards the mouse; beyond, the pull grows no more."""

HOME = 0.3
"""Share of the way back to the press state that a frame offers every point but the dragged."""

GRIP = 1000.0
"""Weight of the dragged point beside a free node's 1."""

SLIDE_WEIGHT = 0.01 * 300.0**2
"""Weight of a slide parameter: a cubic of about 300 mm, moving along at a hundredth of the cost."""

HANDLE_MM = 20.0
"""A handle shorter than this is the heavier the shorter it is."""

HANDLE_LEAST_MM = 0.5
"""A handle shorter than this may not shrink in a drag."""

NO_HANDLE_MM = 1e-6
"""A handle shorter than this has no direction and does not move."""

HANDLE_TURN = 0.7
"""Greatest exponent of a handle's update: it at most doubles or halves in a step."""

DAMPING = 1e-8
"""Added to the diagonal of the normal matrix, so that rows asked twice still factor."""

ANGLE_MM = 100.0
"""A radian counts as this many mm: the arc at the end of a 100 mm handle."""

DEPENDENT = 1e-6
"""Remainder of a normalised row, after what stands before it, under which it says nothing new."""

NAMED = 1e-4
"""Least coefficient with which a row of a clash is named."""

SHARE_NAMED = 0.2
"""A row is named unmet when its residual is over this share of the largest."""

SECOND_LOOK_MM = 5.0
"""Length of the random move that tells a flat place from a true redundancy."""

SETTLED_MM = 0.02
"""A frame that moves less changes nothing a maker sees."""

HELD_BACK_MM = 0.1
"""Gap to the mouse over which a drag that came to rest counts as held back."""
