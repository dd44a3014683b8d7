"""Makes every picture of the docs from the program itself: `.venv/bin/python docs/pictures.py`."""

from __future__ import annotations

from pathlib import Path

import msgspec

from studio.canvas.selection import Selection
from studio.cut.edit import Grip
from studio.demo import ORCHARD_BODY, demo_design
from studio.design import OnEdge
from studio.design.plain import plain_design
from studio.exchange.picture import write_png
from studio.pattern import evaluate
from studio.window.app import picture_of_window

FOLDER = Path(__file__).parent / "pictures"


def main() -> None:
    """Write the pictures."""
    FOLDER.mkdir(exist_ok=True)
    demo = demo_design()
    mouth = Selection("line", "hand-pocket", Grip("hand-pocket", "end", 2))
    picture_of_window(demo, FOLDER / "window.png", selection=mouth)
    picture_of_window(demo, FOLDER / "dark.png", selection=Selection("line", "yoke"), dark=True)
    picture_of_window(plain_design(ORCHARD_BODY), FOLDER / "block.png", size=(1280, 800))
    seam = Selection("join", "side seam")
    picture_of_window(demo, FOLDER / "seam.png", selection=seam, size=(1280, 800))
    line = demo.line("yoke")
    low = msgspec.structs.replace(line.path, end=OnEdge("back.side", "back.waist", mm=400.0))
    broken = demo.with_line(msgspec.structs.replace(line, path=low))
    picture_of_window(
        broken, FOLDER / "finding.png", selection=Selection("line", "yoke"), size=(1280, 800)
    )
    colours = {cloth.name: cloth.colour for cloth in demo.cloths}
    write_png(evaluate(demo).pieces, FOLDER / "pieces.png", colours=colours, width_px=1400)


if __name__ == "__main__":
    main()
