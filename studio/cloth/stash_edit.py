"""Edits of the stash: each gives a design in which something of it is otherwise."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable

from msgspec.structs import replace

from studio import numbers
from studio.cloth.bed import bed_of
from studio.design.cloth import Cloth, CuttingRule, SalvagedPanel, Stock
from studio.design.design import Design
from studio.errors import BadInput

MOST_STRETCH = 300.0
"""Per cent; knitted rubber stretches less."""

MOST_SHRINKAGE = 30.0
"""Per cent; the project file holds no more."""


def with_cloth(design: Design, cloth: Cloth) -> Design:
    """The design with a cloth more.

    Raises:
        BadInput: no name, or one that another cloth bears; a colour or number that is none.
    """
    _check_name(cloth.name, (known.name for known in design.cloths), "cloth")
    return replace(design, cloths=(*design.cloths, _sound_cloth(cloth)))


def changed_cloth(design: Design, cloth: Cloth) -> Design:
    """The design with the cloth of that name made so.

    Raises:
        BadInput: there is no such cloth; a colour or number that is none.
    """
    cloth_of(design, cloth.name)
    _sound_cloth(cloth)
    cloths = tuple(cloth if known.name == cloth.name else known for known in design.cloths)
    return replace(design, cloths=cloths)


def renamed_cloth(design: Design, old: str, new: str) -> Design:
    """The design with a cloth called otherwise, in pieces, stock and cutting rules too.

    Raises:
        BadInput: there is no such cloth, no new name, or another cloth bears it.
    """
    cloth_of(design, old)
    _check_name(new, (known.name for known in design.cloths if known.name != old), "cloth")

    def name(known: str) -> str:
        return new if known == old else known

    return replace(
        design,
        cloths=tuple(replace(known, name=name(known.name)) for known in design.cloths),
        pieces=tuple(replace(piece, cloth=name(piece.cloth)) for piece in design.pieces),
        stash=tuple(replace(stock, cloth=name(stock.cloth)) for stock in design.stash),
        cutting=tuple(
            replace(rule, cloths=tuple(name(known) for known in rule.cloths))
            for rule in design.cutting
        ),
    )


def without_cloth(design: Design, name: str) -> Design:
    """The design without a cloth that nothing is cut from.

    Raises:
        BadInput: there is no such cloth, or pieces, stock or cutting rules are of it.
    """
    cloth_of(design, name)
    pieces = [piece.name for piece in design.pieces if piece.cloth == name]
    if pieces:
        raise BadInput(f"{_listed(pieces)} cut from it; give them another cloth.", where=name)
    lying = [stock.name for stock in design.stash if stock.cloth == name]
    if lying:
        raise BadInput(f"{_listed(lying)} of it; remove that first.", where=name)
    ruled = [rule.piece for rule in design.cutting if name in rule.cloths]
    if ruled:
        raise BadInput(f"{_listed(ruled)} allowed to be cut from it as well.", where=name)
    return replace(design, cloths=tuple(known for known in design.cloths if known.name != name))


def with_stock(design: Design, stock: Stock) -> Design:
    """The design with a roll or a panel more.

    Raises:
        BadInput: no name, or one that other stock bears; a cloth that is not known; a stock that
            nothing could be laid on.
    """
    _check_name(stock.name, (known.name for known in design.stash), "stock")
    return replace(design, stash=(*design.stash, _sound_stock(design, stock)))


def changed_stock(design: Design, stock: Stock) -> Design:
    """The design with the stock of that name made so; what lies on it stays where it is.

    Raises:
        BadInput: there is no such stock; its cloth is not known; nothing could be laid on it.
    """
    stock_of(design, stock.name)
    _sound_stock(design, stock)
    stash = tuple(stock if known.name == stock.name else known for known in design.stash)
    return replace(design, stash=stash)


def renamed_stock(design: Design, old: str, new: str) -> Design:
    """The design with stock called otherwise, in cutting rules and placements too.

    Raises:
        BadInput: there is no such stock, no new name, or other stock bears it.
    """
    stock_of(design, old)
    _check_name(new, (known.name for known in design.stash if known.name != old), "stock")

    def name(known: str) -> str:
        return new if known == old else known

    placements = tuple(replace(one, stock=name(one.stock)) for one in design.lay.placements)
    return replace(
        design,
        stash=tuple(replace(stock, name=name(stock.name)) for stock in design.stash),
        cutting=tuple(
            replace(rule, stock=tuple(name(known) for known in rule.stock))
            for rule in design.cutting
        ),
        lay=replace(design.lay, placements=placements),
    )


def without_stock(design: Design, name: str) -> Design:
    """The design without a stock. Pieces that lay on it lie nowhere, to be laid anew.

    Raises:
        BadInput: there is no such stock; a piece is locked on it, or may only be cut from it.
    """
    stock_of(design, name)
    locked = [one.piece for one in design.lay.placements if one.stock == name and one.locked]
    if locked:
        raise BadInput(f"{_listed(dict.fromkeys(locked))} locked on it.", where=name)
    only = [rule.piece for rule in design.cutting if rule.stock == (name,)]
    if only:
        raise BadInput(f"{_listed(only)} to be cut from it alone.", where=name)
    placements = tuple(one for one in design.lay.placements if one.stock != name)
    return replace(
        design,
        stash=tuple(stock for stock in design.stash if stock.name != name),
        cutting=tuple(
            replace(rule, stock=tuple(known for known in rule.stock if known != name))
            for rule in design.cutting
        ),
        lay=replace(design.lay, placements=placements),
    )


def with_cutting(design: Design, rule: CuttingRule) -> Design:
    """The design with a piece's rule made so; one that says nothing is not kept.

    Raises:
        BadInput: the piece, a cloth or a stock is not known; a tolerance that is none.
    """
    if all(piece.name != rule.piece for piece in design.pieces):
        raise BadInput("There is no such piece.", where=rule.piece)
    for cloth in rule.cloths:
        cloth_of(design, cloth)
    for stock in rule.stock:
        stock_of(design, stock)
    if not 0.0 <= rule.tolerance <= 45.0:
        raise BadInput("A piece is turned off the grain by 0 to 45 degrees.", where=rule.piece)
    kept = tuple(known for known in design.cutting if known.piece != rule.piece)
    if rule != CuttingRule(rule.piece):
        kept = (*kept, rule)
    return replace(design, cutting=kept)


def cutting_of(design: Design, piece: str) -> CuttingRule:
    """The rule of a piece; without one, that of a piece of which nothing is said."""
    return next((rule for rule in design.cutting if rule.piece == piece), CuttingRule(piece))


def cloth_of(design: Design, name: str) -> Cloth:
    """The cloth of that name; raises BadInput when there is none."""
    for cloth in design.cloths:
        if cloth.name == name:
            return cloth
    raise BadInput("There is no such cloth.", where=name)


def stock_of(design: Design, name: str) -> Stock:
    """The stock of that name; raises BadInput when there is none."""
    for stock in design.stash:
        if stock.name == name:
            return stock
    raise BadInput("Nothing of that name lies in the stash.", where=name)


def rectangle(name: str, cloth: str, width: float, length: float) -> SalvagedPanel:
    """A panel from two numbers, mm: its warp along its length.

    Raises:
        BadInput: a width or length that is none.
    """
    if not (width > 0.0 and length > 0.0 and math.isfinite(width + length)):
        raise BadInput("A panel needs a width and a length.", where=name)
    outline = ((0.0, 0.0), (width, 0.0), (width, length), (0.0, length))
    return SalvagedPanel(name, cloth, outline, ((width / 2.0, 0.0), (width / 2.0, length)))


def free_name(wanted: str, taken: Iterable[str]) -> str:
    """A name that is not taken: the wanted one, or with a number after it."""
    known = set(taken)
    name, number = wanted, 2
    while name in known:
        name, number = f"{wanted} {number}", number + 1
    return name


def _check_name(name: str, taken: Iterable[str], what: str) -> None:
    if not name.strip() or name != name.strip():
        raise BadInput(f"A {what} needs a name.", where=name)
    if name in set(taken):
        raise BadInput("Something else in the stash bears that name.", where=name)


def _sound_cloth(cloth: Cloth) -> Cloth:
    if not re.fullmatch("#[0-9a-fA-F]{6}", cloth.colour):
        raise BadInput(f"{cloth.colour!r} is no colour; write it as #rrggbb.", where=cloth.name)
    if not 0.0 <= cloth.stretch <= MOST_STRETCH:
        raise BadInput(
            f"Cloth stretches by 0 to {numbers.plain(MOST_STRETCH)} per cent.", where=cloth.name
        )
    for shrinkage in (cloth.warp_shrinkage, cloth.weft_shrinkage):
        if not 0.0 <= shrinkage <= MOST_SHRINKAGE:
            raise BadInput(
                f"Cloth shrinks by 0 to {numbers.plain(MOST_SHRINKAGE)} per cent.", where=cloth.name
            )
    return cloth


def _sound_stock(design: Design, stock: Stock) -> Stock:
    cloth_of(design, stock.cloth)
    if bed_of(stock).usable.is_empty:
        raise BadInput("Its flaws leave nothing to cut from.", where=stock.name)
    return stock


def _listed(names: Iterable[str]) -> str:
    """Names with their verb: front and back are."""
    words = list(names)
    if len(words) == 1:
        return f"{words[0]} is"
    return f"{', '.join(words[:-1])} and {words[-1]} are"
