"""Rows of the column beside the laying table: what is wanting, each with what can be done."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from studio.window.lay_advice import Deal
from studio.window.lay_panes import MissingRow, Offer
from studio.window.lay_summary import Followed, Wanting


def missing_row(
    one: Wanting, said: Callable[[str], str], take: Callable[[Deal], object]
) -> MissingRow:
    """A piece that is wanting; `said` tells a sentence in the unit chosen, `take` does a deal."""
    return MissingRow(
        one.name,
        tuple(said(sentence) for sentence in one.sentences),
        tuple(
            Offer(deal.label, partial(take, deal), deal.tip, said(deal.words)) for deal in one.deals
        ),
        one.key,
    )


def changed_row(
    changed: Followed, said: Callable[[str], str], take: Callable[[], object]
) -> MissingRow:
    """Pieces that have changed and fit otherwise; `take` lays them so."""
    offer = Offer("Lay them so", take, "The changed pieces are laid where they fit.")
    return MissingRow("Changed pieces", (said(changed.sentence),), (offer,))
