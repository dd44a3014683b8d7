"""The stash file: cloths and what lies there of them, for any project to cut from.

JSON like the project file: format and version first, written whole or not at all.
"""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path
from typing import Literal

import msgspec
from msgspec.structs import replace

from studio.cloth.stash_edit import with_cloth, with_stock
from studio.design.cloth import Cloth, SalvagedPanel, Stock
from studio.design.design import Design
from studio.design.file import content_of, converted, tree_of, write_whole
from studio.design.kept import Kept
from studio.design.schema import schema_of
from studio.errors import BadInput

SUFFIX = ".stash"
FORMAT: Literal["yokewright stash"] = "yokewright stash"
VERSION = 1
NEEDS = "0.3.0"
"""The least program version that reads `VERSION`."""

SCHEMA_ASSET = "stash.schema.json"


class Stash(Kept, frozen=True):
    """Cloths and the stock that lies there of them."""

    cloths: tuple[Cloth, ...] = ()
    stock: tuple[Stock, ...] = ()


class StashFile(Kept, frozen=True):
    """What stands in a `.stash` file; `needs` is the least version of the program that reads it."""

    format: Literal["yokewright stash"]
    version: int
    needs: str
    stash: Stash


def encoded_stash(stash: Stash) -> bytes:
    """The bytes of a stash file: indented JSON, ending in a line break."""
    content = StashFile(FORMAT, VERSION, NEEDS, stash)
    return msgspec.json.format(msgspec.json.encode(content), indent=2) + b"\n"


def decoded_stash(content: bytes, path: str = "") -> Stash:
    """The stash in a file's bytes.

    Raises:
        NewerVersion: the file needs a later program; the sentence names which.
        BadInput: not JSON, something unknown or broken in it, a name that stands twice, stock of a
            cloth that is not there or that nothing could be laid on; says where and why.
    """
    tree = tree_of(content, "stash", FORMAT, VERSION, path)
    stash = converted(tree, StashFile, path).stash
    _check(stash, path)
    return stash


def load_stash(path: Path | str) -> Stash:
    """Read a stash file.

    Raises:
        BadInput: it cannot be read or used; names the file, the place in it and the reason.
    """
    return decoded_stash(content_of(path), str(path))


def save_stash(stash: Stash, path: Path | str) -> None:
    """Write a stash file so that the old one stands until the new one is safe on the disk.

    Raises:
        BadInput: the folder cannot be written to.
    """
    write_whole(Path(path), encoded_stash(stash))


def stash_of(design: Design) -> Stash:
    """All cloths of a design, and all that lies there of them."""
    return Stash(design.cloths, design.stash)


def clashes(design: Design, stash: Stash) -> tuple[str, ...]:
    """Names of cloths and stock that both know but mean otherwise."""
    cloths = {cloth.name: cloth for cloth in design.cloths}
    stock = {one.name: one for one in design.stash}
    return (
        *(one.name for one in stash.cloths if cloths.get(one.name, one) != one),
        *(one.name for one in stash.stock if stock.get(one.name, one) != one),
    )


def taken(design: Design, stash: Stash, clash: Literal["refuse", "rename"] = "refuse") -> Design:
    """The design with a stash's cloths and stock added to its own.

    What both know alike is kept once. What bears a name that means something else in the design
    is refused, or taken under a name with a number: the same one when it is taken again.

    Raises:
        BadInput: names clash and that is refused; names them.
    """
    if clash == "refuse" and (names := clashes(design, stash)):
        raise BadInput(
            f"{', '.join(names)}: known by that name already, but otherwise. "
            "Take them under new names, or rename them first."
        )
    renamed: dict[str, str] = {}
    for cloth in stash.cloths:
        name = _free(cloth, {one.name: one for one in design.cloths})
        renamed[cloth.name] = name
        if all(one.name != name for one in design.cloths):
            design = with_cloth(design, replace(cloth, name=name))
    for stock in stash.stock:
        moved = replace(stock, cloth=renamed[stock.cloth])
        name = _free(moved, {one.name: one for one in design.stash})
        if all(one.name != name for one in design.stash):
            design = with_stock(design, replace(moved, name=name))
    return design


def given(design: Design, stash: Stash, clash: Literal["refuse", "rename"] = "refuse") -> Stash:
    """A stash with a design's cloths and stock added to it; as `taken` the other way."""
    known = Design(name="stash", cloths=stash.cloths, stash=stash.stock)
    return stash_of(taken(known, stash_of(design), clash))


def at_home(stock: tuple[Stock, ...], old: Path | None, new: Path | None) -> tuple[Stock, ...]:
    """Stock whose photographs are found from folder `new` as they were from folder `old`: by a
    relative path when they lie below it, else by the whole path. A project that was never saved
    has no folder.
    """
    return tuple(
        replace(one, trace=replace(one.trace, photograph=_from(one.trace.photograph, old, new)))
        if isinstance(one, SalvagedPanel) and one.trace is not None
        else one
        for one in stock
    )


def beside(photograph: Path, folder: Path | None) -> str:
    """How a photograph is written in a file of a folder: relative when it lies below it."""
    whole = Path(os.path.abspath(photograph))
    if folder is None:
        return str(whole)
    home = Path(os.path.abspath(folder))
    return whole.relative_to(home).as_posix() if whole.is_relative_to(home) else str(whole)


def stash_schema_text() -> str:
    """The JSON Schema of stash files as indented JSON; `assets/stash.schema.json` holds it."""
    return schema_of(StashFile)


def _check(stash: Stash, path: str) -> None:
    """Every cloth and stock as the design's own edits would have it."""
    known = Design(name="stash")
    for what, number, one in (
        *(("cloths", number, cloth) for number, cloth in enumerate(stash.cloths)),
        *(("stock", number, stock) for number, stock in enumerate(stash.stock)),
    ):
        try:
            known = with_cloth(known, one) if isinstance(one, Cloth) else with_stock(known, one)
        except BadInput as problem:
            where = f"stash.{what}[{number}]"
            raise BadInput(
                f"{one.name}: {problem.message}", where=where, path=path, exact=problem.exact
            ) from problem


def _free(one: Cloth | Stock, known: Mapping[str, Cloth | Stock]) -> str:
    """The name it is taken under: its own, or the first with a number that is free or means it."""
    name, number = one.name, 2
    while name in known and replace(known[name], name=one.name) != one:
        name, number = f"{one.name} {number}", number + 1
    return name


def _from(photograph: str, old: Path | None, new: Path | None) -> str:
    if old is None and not Path(photograph).is_absolute():
        return photograph
    return beside(Path(photograph) if old is None else old / photograph, new)
