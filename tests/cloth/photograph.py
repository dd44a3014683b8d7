"""A pinhole camera and a photograph made with it, for checks of what is read off photographs.

The camera is that of the textbooks (Hartley and Zisserman, chapter 6): x = K [R t] X, with the
cloth in the plane z = 0. Nothing here is shared with what is checked.
"""

import math

import numpy as np

WIDE, HIGH = 2400, 1800


class Camera:
    """Over the cloth at `above` mm over `over`, tilted by `tilt` degrees and turned by `roll`."""

    def __init__(self, above=1100.0, over=(250.0, 200.0), tilt=18.0, roll=4.0, focal=2600.0):
        # The camera looks down: its x is the cloth's, its y runs against the cloth's.
        look = np.diag([1.0, -1.0, -1.0])
        t, r = math.radians(tilt), math.radians(roll)
        about_x = np.array(
            [[1, 0, 0], [0, math.cos(t), -math.sin(t)], [0, math.sin(t), math.cos(t)]]
        )
        about_z = np.array(
            [[math.cos(r), -math.sin(r), 0], [math.sin(r), math.cos(r), 0], [0, 0, 1]]
        )
        rotation = about_z @ about_x @ look
        # Stepped back so that `over` stays in the middle of the picture.
        aim = np.array([*over, 0.0])
        centre = aim - rotation.T @ np.array([0.0, 0.0, above])
        inner = np.array([[focal, 0, WIDE / 2], [0, focal, HIGH / 2], [0, 0, 1.0]])
        self.whole = inner @ np.column_stack([rotation, -rotation @ centre])
        self._plane = np.linalg.inv(self.whole[:, [0, 1, 3]])

    def pixel(self, place):
        """Where a place of the cloth (mm) falls in the picture."""
        x, y, w = self.whole @ np.array([*place, 0.0, 1.0])
        return float(x / w), float(y / w)

    def photograph(self, shade):
        """Grey values as rows of bytes: `shade(x, y)` of arrays of mm on the cloth, 0 to 1."""
        columns, rows = np.meshgrid(np.arange(WIDE) + 0.5, np.arange(HIGH) + 0.5)
        x, y, w = self._plane @ np.stack([columns.ravel(), rows.ravel(), np.ones(columns.size)])
        grey = shade(x / w, y / w).reshape(HIGH, WIDE)
        return np.clip(grey * 255.0, 0.0, 255.0).astype(np.uint8)


def as_set(pixel):
    """A mark as a maker sets it with a magnifier: to a tenth of a pixel."""
    return round(pixel[0], 1), round(pixel[1], 1)
