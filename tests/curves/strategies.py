"""Curves to try laws on, from tame to wild."""

from hypothesis import strategies as st

from studio.curves import Affine, Chain, Cubic, Point, Vector

COORDINATE = st.floats(-300.0, 300.0)
POINTS = st.builds(Point, COORDINATE, COORDINATE)
CUBICS = st.builds(Cubic, POINTS, POINTS, POINTS, POINTS).filter(lambda cubic: cubic.length > 1.0)


@st.composite
def chains(draw, most=4):
    """Cubics joined end to end."""
    first = draw(CUBICS)
    cubics = [first]
    for _ in range(draw(st.integers(0, most - 1))):
        following = draw(CUBICS)
        cubics.append(following.with_ends(cubics[-1].p3, following.p3))
    return Chain(tuple(cubics))


RIGID = st.builds(
    lambda turn, about, x, y, flip: (
        (Affine.mirror_x() if flip else Affine())
        .then(Affine.turn(turn, about))
        .then(Affine.shift(Vector(x, y)))
    ),
    st.floats(-180.0, 180.0),
    POINTS,
    COORDINATE,
    COORDINATE,
    st.booleans(),
)
