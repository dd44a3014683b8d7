"""Contrast of words against their ground, computed from the colours in the code.

Source: W3C, Web Content Accessibility Guidelines 2.1 (2018): relative luminance, contrast ratio,
success criteria 1.4.3 (words 4.5 to 1) and 1.4.11 (rims of what can be pressed 3 to 1).
"""

import pytest

from studio.canvas.theme import DARK, LIGHT

WORDS, RIMS = 4.5, 3.0


def luminance(colour):
    """Relative luminance of #rrggbb, by the definition of the guidelines."""
    channels = [int(colour[at : at + 2], 16) / 255.0 for at in (1, 3, 5)]
    red, green, blue = (
        c / 12.92 if c <= 0.03928 else ((c + 0.055) / 1.055) ** 2.4 for c in channels
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one, other):
    darker, lighter = sorted((luminance(one), luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def test_contrast_is_reckoned_as_the_guidelines_do():
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    # The grey that is commonly named as the lightest that passes on white.
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.01)


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=["light", "dark"])
@pytest.mark.parametrize("words", ["ink", "faint", "work", "seam", "grave", "warning"])
@pytest.mark.parametrize("ground", ["ground", "paper", "chrome", "field"])
def test_words_stand_out_from_every_ground(theme, words, ground):
    assert contrast(getattr(theme, words), getattr(theme, ground)) >= WORDS


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=["light", "dark"])
def test_words_stand_out_where_they_are_picked_or_pointed_at(theme):
    assert contrast(theme.chrome, theme.seam) >= WORDS
    assert contrast(theme.ink, theme.border) >= WORDS


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=["light", "dark"])
@pytest.mark.parametrize("ground", ["chrome", "field"])
def test_rims_and_rings_of_focus_stand_out(theme, ground):
    assert contrast(theme.rim, getattr(theme, ground)) >= RIMS
    for ring in (theme.seam, theme.work):
        assert contrast(ring, getattr(theme, ground)) >= RIMS
