"""How seams and edges are sewn, each kind in a file of its own, by the names of the design."""

from studio.design.joins import ConstructionName, Finish, FinishName
from studio.sew.constructions.bagged import Bagged
from studio.sew.constructions.bound import BoundEdge, BoundSeam
from studio.sew.constructions.casing import Casing
from studio.sew.constructions.construction import Construction, EdgeFinish, Row
from studio.sew.constructions.faced import Faced
from studio.sew.constructions.felled import Felled
from studio.sew.constructions.free import Caught, FacedEdge, Raw, Turned
from studio.sew.constructions.hems import DoubleHem, Hem
from studio.sew.constructions.laid_over import BoundOver, LaidOver
from studio.sew.constructions.lapped import Lapped
from studio.sew.constructions.plain import Plain
from studio.sew.constructions.turn_up import TurnUp

CONSTRUCTIONS: dict[ConstructionName, Construction] = {
    "plain": Plain(),
    "felled": Felled(),
    "lapped": Lapped(),
    "faced": Faced(),
    "bagged": Bagged(),
    "bound": BoundSeam(),
    "laid-over": LaidOver(),
    "bound-over": BoundOver(),
}

FINISHES: dict[FinishName, EdgeFinish] = {
    "hem": Hem(),
    "double-hem": DoubleHem(),
    "turn-up": TurnUp(),
    "casing": Casing(),
    "turned": Turned(),
    "faced": FacedEdge(),
    "bound": BoundEdge(),
    "caught": Caught(),
    "raw": Raw(),
}


def finished(finish: Finish) -> EdgeFinish:
    """How a free edge is finished, with the height of its turn-up as asked for."""
    return FINISHES[finish.how].standing(finish.turn_up)


__all__ = ["CONSTRUCTIONS", "FINISHES", "Construction", "EdgeFinish", "Row", "finished"]
