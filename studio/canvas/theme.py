"""Colours of paper, ink and cloth, light and dark: oranges and blues, told apart by anyone."""

from __future__ import annotations

import msgspec


class Theme(msgspec.Struct, frozen=True):
    """Colours as #rrggbb. `work` marks what the maker draws and holds, `seam` what is computed;
    `border` parts one pane from another, `rim` is drawn round what can be typed in or pressed.
    """

    name: str
    ground: str
    grid: str
    grid_strong: str
    paper: str
    ink: str
    faint: str
    work: str
    seam: str
    chrome: str
    field: str
    border: str
    rim: str
    grave: str
    warning: str

    @property
    def is_dark(self) -> bool:
        """True for the dark theme."""
        return self.name == "dark"


LIGHT = Theme(
    name="light",
    ground="#efeae0",
    grid="#e5dfd2",
    grid_strong="#d8d0bf",
    paper="#fffdf8",
    ink="#26323c",
    faint="#5b656f",
    work="#ad4a12",
    seam="#1d5c88",
    chrome="#f7f4ed",
    field="#fffdf8",
    border="#d9d2c3",
    rim="#8c8578",
    grave="#9c3a0a",
    warning="#7a5a00",
)

DARK = Theme(
    name="dark",
    ground="#1b2228",
    grid="#222b32",
    grid_strong="#2c3740",
    paper="#2a343c",
    ink="#ece6da",
    faint="#a3aeb8",
    work="#f3a06a",
    seam="#86c0e8",
    chrome="#222a31",
    field="#2a343c",
    border="#3a4650",
    rim="#7d8b97",
    grave="#ffb38a",
    warning="#f0cf7a",
)

CLOTH = "#8296a8"
"""A cloth the design does not name a colour for."""
