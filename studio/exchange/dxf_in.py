"""Opening a DXF file, and how long its unit is."""

from __future__ import annotations

from pathlib import Path

from ezdxf import units as dxf_units
from ezdxf.document import Drawing
from ezdxf.filemanagement import readfile
from ezdxf.lldxf.const import DXFError

from studio.errors import BadInput
from studio.exchange.drawing_units import UNITS_MM

_DXF_UNITS = {1: 25.4, 2: 304.8, 4: 1.0, 5: 10.0, 6: 1000.0, 14: 100.0}
"""$INSUNITS codes that a pattern can sensibly be drawn in: inch, foot, mm, cm, m, dm."""


def opened_drawing(path: Path) -> Drawing:
    """A DXF file's content; raises BadInput when it cannot be read or is not sound."""
    try:
        return readfile(path)
    except OSError as problem:
        reason = problem.strerror or str(problem) or "not a DXF file"
        raise BadInput(f"cannot be read: {reason}.", path=str(path)) from problem
    except (DXFError, UnicodeDecodeError, ValueError, KeyError, IndexError) as problem:
        raise BadInput(f"is not a sound DXF file: {problem}.", path=str(path)) from problem


def millimetres_of(drawing: Drawing, unit: str | None, path: str) -> float:
    """Millimetres in a unit of a drawing: the one named, else its own.

    Raises:
        BadInput: the name is not known, or the drawing has no unit, or none for a pattern; `where`
            is "$INSUNITS" when a named unit would help.
    """
    if unit is not None:
        if unit not in UNITS_MM:
            raise BadInput(f"unknown unit {unit!r}; known are {', '.join(UNITS_MM)}.")
        return UNITS_MM[unit]
    code = int(drawing.header.get("$INSUNITS", 0))
    if code == 0:
        raise BadInput(
            "does not say its unit ($INSUNITS). Give it: --unit mm, cm, m, inch or foot.",
            where="$INSUNITS",
            path=path,
        )
    if code not in _DXF_UNITS:
        raise BadInput(
            f"is drawn in {dxf_units.unit_name(code)}, which no pattern is. Give --unit.",
            where="$INSUNITS",
            path=path,
        )
    return _DXF_UNITS[code]
