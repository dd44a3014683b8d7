"""Every tolerance of the curve room, each with its unit and its reason."""

MEET_MM = 1e-6
"""Two curves made to meet do so within this; far below a plotter's step of 0.025 mm."""

LENGTH_MM = 1e-9
"""Asked of the kernel for arc lengths, so that sums of a hundred edges stay within 1e-6."""

CLOSE_MM = 1e-6
"""Gap between the end of one edge and the start of the next that still counts as closed."""

CORNER_MM = 1e-3
"""A cut that lands this near a corner goes through the corner: one policy, no sliver."""

TOUCH_MM = 1e-3
"""Two curves this near without crossing touch; a cut along a touch is refused."""

OFFSET_MM = 0.01
"""An offset lies within this of the true parallel."""

OFFSET_ASKED_MM = 0.006
"""Asked of the kernel for offsets, which has been seen to miss what it was asked by a fifth."""

FLAT_MM = 0.02
"""Chord error of polylines made for hit tests, areas of containment and the screen."""

SCAN_MM = 0.5
"""Chord error of polylines that are scanned in every frame of a drag: one for all who scan, as a
curve remembers its last polyline only."""

FIT_MM = 0.05
"""A fitted import lies within this of its points; the width of a fine plotted line."""

NOTHING_MM = 1e-6
"""A curve shorter than this is no curve: the kernel gives NaN on it."""

PARALLEL = 1e-9
"""Cross product of two unit vectors (sine of their angle) under which they are parallel."""
