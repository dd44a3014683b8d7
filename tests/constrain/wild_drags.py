"""Drags that nobody's hand would make, and what must hold of each of them."""

import numpy as np

from studio.constrain import Drag, PointRef
from studio.constrain.system import System
from studio.curves import Point

HANDS = (PointRef(6), PointRef(7), PointRef(8), PointRef(7, "out"), PointRef(8, "in"), PointRef(9))


def wild_path(seed):
    """Twenty places, most near, some far outside the sheet."""
    random = np.random.default_rng(seed)
    places = random.normal((120.0, 160.0), (90.0, 60.0), (20, 2))
    far = random.random(20) < 0.1
    places[far] += random.normal(0.0, 4000.0, (far.sum(), 2))
    return [Point(*place.tolist()) for place in places]


def ends_well(start, seed):
    """Drag one of the hands about, wildly: every frame holds, and so does what it ends with."""
    drag = Drag(start, HANDS[seed % len(HANDS)])
    for mouse in wild_path(seed)[: 4 + seed % 5]:
        drag.to(mouse)
        assert drag.worst_mm <= 1e-3
    ended = drag.release()
    system = System(ended)
    system.correct(system.base)
    assert system.worst(system.base) <= 1e-9
    for node in ended.nodes[6:]:
        for handle in (node.handle_in, node.handle_out):
            assert handle is None or handle.length > 0.4
