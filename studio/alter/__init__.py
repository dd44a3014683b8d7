"""Alterations: flat-pattern work on panels, one module a kind."""

from __future__ import annotations

from typing import Any

from studio.alter.add_level import AddLevelKind
from studio.alter.close_dart import CloseDartKind
from studio.alter.fair_edge import FairEdgeKind
from studio.alter.fold_pleat import FoldPleatKind
from studio.alter.followed import darts_followed
from studio.alter.hinge import HingeKind
from studio.alter.kind import Drafting, Field, Handle, Kind
from studio.alter.lengthen import LengthenKind
from studio.alter.lower_waist import LowerWaistKind
from studio.alter.mirror_edge import MirrorEdgeKind
from studio.alter.move_dart import MoveDartKind
from studio.alter.move_seam import MoveSeamKind
from studio.alter.open_dart import OpenDartKind
from studio.alter.reshape import ReshapeKind
from studio.alter.shorten_dart import ShortenDartKind
from studio.alter.split_dart import SplitDartKind
from studio.alter.spread import SpreadKind
from studio.alter.straighten import StraightenKind
from studio.alter.swing_rise import SwingRiseKind
from studio.alter.take_in import TakeInKind
from studio.alter.take_off_dart import TakeOffDartKind
from studio.alter.true_seam import TrueSeamKind
from studio.block.panel import Panel
from studio.curves import tolerance
from studio.design import alterations as asked
from studio.design.alterations import Alteration
from studio.errors import GeometryRefused

KINDS: dict[type[Alteration], Kind[Any]] = {
    asked.LowerWaist: LowerWaistKind(),
    asked.SwingRise: SwingRiseKind(),
    asked.Hinge: HingeKind(),
    asked.CloseDart: CloseDartKind(),
    asked.MoveDart: MoveDartKind(),
    asked.SplitDart: SplitDartKind(),
    asked.OpenDart: OpenDartKind(),
    asked.ShortenDart: ShortenDartKind(),
    asked.FoldPleat: FoldPleatKind(),
    asked.TakeOffDart: TakeOffDartKind(),
    asked.TakeIn: TakeInKind(),
    asked.MoveSeam: MoveSeamKind(),
    asked.Lengthen: LengthenKind(),
    asked.Spread: SpreadKind(),
    asked.Reshape: ReshapeKind(),
    asked.FairEdge: FairEdgeKind(),
    asked.Straighten: StraightenKind(),
    asked.MirrorEdge: MirrorEdgeKind(),
    asked.TrueSeam: TrueSeamKind(),
    asked.AddLevel: AddLevelKind(),
}
"""Every kind of alteration and what does it."""

__all__ = ["KINDS", "Drafting", "Field", "Handle", "Kind", "altered", "altered_beside", "kind_of"]


def kind_of(step: Alteration) -> Kind[Any]:
    """What does a step."""
    return KINDS[type(step)]


def altered(panel: Panel, steps: tuple[Alteration, ...]) -> Panel:
    """The panel after the active steps that name it, in order; raises GeometryRefused."""
    for step in steps:
        if step.active and step.panel == panel.name:
            panel = _with_all_edges(darts_followed(kind_of(step).do(panel, step)))
    return panel


def altered_beside(panel: Panel, step: Alteration, others: tuple[Panel, ...]) -> Panel:
    """The panel after one step, with the other panels it reads; raises GeometryRefused."""
    made = kind_of(step).do_beside(panel, step, {other.name: other for other in others})
    return _with_all_edges(darts_followed(made))


def _with_all_edges(panel: Panel) -> Panel:
    """The panel, unless a step has drawn an edge together to nothing: no seam, no corner and no
    line can be made of that.
    """
    for edge in panel.outline:
        if edge.length < tolerance.NOTHING_MM:
            raise GeometryRefused(f"It leaves nothing of {edge.name}.", where=edge.name)
    return panel
