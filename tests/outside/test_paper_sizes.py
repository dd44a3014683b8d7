"""Paper as the standards have it."""

import pytest

from studio.exchange.paper_sizes import PAPERS


def test_iso_216_sizes():
    # Source: ISO 216:2007: A0 is 841 x 1189 mm; each further size halves the longer side,
    # rounded down to the millimetre; A4 is 210 x 297.
    width, height = PAPERS["a0"].width, PAPERS["a0"].height
    assert (width, height) == (841.0, 1189.0)
    for _ in range(4):
        width, height = height // 2, width
    assert (width, height) == (PAPERS["a4"].width, PAPERS["a4"].height) == (210.0, 297.0)


def test_us_letter():
    # Source: ANSI/ASME Y14.1, size A: 8.5 x 11 inches of 25.4 mm.
    assert PAPERS["letter"].width == pytest.approx(8.5 * 25.4)
    assert PAPERS["letter"].height == pytest.approx(11 * 25.4)
