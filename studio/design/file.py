"""The project file: JSON, version first, written whole or not at all.

Save what the maker asked for; everything else is computed again.
"""

from __future__ import annotations

import os
import tempfile
from pathlib import Path
from typing import Any, Literal, TypeVar

import msgspec

from studio.design.design import Design
from studio.design.kept import Kept
from studio.design.upgrades import CURRENT_VERSION, PROGRAM_FOR_VERSION, upgraded
from studio.errors import BadInput, NewerVersion

SUFFIX = ".yoke"

Kind = TypeVar("Kind")


class ProjectFile(Kept, frozen=True):
    """What stands in a `.yoke` file."""

    format: Literal["yokewright design"]
    version: int
    needs: str
    """The least version of the program that reads this file."""
    design: Design


def encoded(design: Design) -> bytes:
    """The bytes of a project file: indented JSON, ending in a line break."""
    project = ProjectFile(
        "yokewright design", CURRENT_VERSION, PROGRAM_FOR_VERSION[CURRENT_VERSION], design
    )
    return msgspec.json.format(msgspec.json.encode(project), indent=2) + b"\n"


def decoded(content: bytes, path: str = "") -> Design:
    """The design in a project file's bytes.

    Raises:
        NewerVersion: the file needs a later program; the sentence names which.
        BadInput: not JSON, or something in it is unknown or broken; says where and why.
    """
    tree = tree_of(content, "project", "yokewright design", CURRENT_VERSION, path)
    return converted(upgraded(tree), ProjectFile, path).design


def tree_of(content: bytes, what: str, form: str, current: int, path: str) -> dict[str, Any]:
    """The JSON object in a file's bytes, whose "format" must say `form` and whose "version" may be
    `current` at most.

    Raises:
        NewerVersion: the file needs a later program; the sentence names which.
        BadInput: it is none; says which kind of file (`what`) it is not, or that its version is
            no whole number.
    """
    try:
        tree = msgspec.json.decode(content)
    except (msgspec.DecodeError, UnicodeDecodeError) as problem:
        raise BadInput(f"This is not a {what} file: {problem}.", path=path) from problem
    if not isinstance(tree, dict) or tree.get("format") != form:
        raise BadInput(f'This is not a {what} file: "format" should say "{form}".', path=path)
    version = tree.get("version")
    if not isinstance(version, int) or isinstance(version, bool) or version < 1:
        raise BadInput("should be a whole number from 1.", where="version", path=path)
    if version > current:
        raise NewerVersion(
            f"This file needs Yokewright {tree.get('needs', 'of a later version')} or later "
            f"(file version {version}; this program reads up to {current}).",
            where="version",
            path=path,
        )
    return tree


def converted(tree: dict[str, Any], kind: type[Kind], path: str) -> Kind:
    """A file's JSON object as a value; raises BadInput with the place in it and the reason."""
    try:
        return msgspec.convert(tree, kind)
    except msgspec.ValidationError as problem:
        reason, _, where = str(problem).partition(" - at ")
        raise BadInput(f"{reason}.", where=where.strip("`").lstrip("$."), path=path) from problem


def content_of(path: Path | str) -> bytes:
    """A file's bytes; raises BadInput with the reason when it cannot be read."""
    try:
        return Path(path).read_bytes()
    except OSError as problem:
        raise BadInput(f"cannot be read: {problem.strerror}.", path=str(path)) from problem


def load(path: Path | str) -> Design:
    """Read a project file.

    Raises:
        BadInput: it can not be read or used; names the file, the place in it and the reason.
    """
    return decoded(content_of(path), str(path))


def save(design: Design, path: Path | str) -> str:
    """Write a project file so that the old one stands until the new one is safe on the disk. Gives
    what `write_whole` gives.

    Raises:
        BadInput: the folder can not be written to; names the file and the reason.
    """
    return write_whole(Path(path), encoded(design))


def write_whole(target: Path, content: bytes) -> str:
    """Write a file by way of a temporary one beside it: temporary file, fsync, replace. A link
    stays one: the file that it leads to is written.

    Where the disk does not let it be read and written by the same people as before, or as a new
    file would be, it is written all the same: what came of it is a sentence, else empty.

    Raises:
        BadInput: the folder can not be written to.
    """
    shown, target = str(target), Path(os.path.realpath(target))
    try:
        # Not called after the target: a name may be as long as the disk takes already.
        handle, name = tempfile.mkstemp(prefix=".writing-", dir=target.parent)
    except OSError as problem:
        raise BadInput(f"cannot be written: {problem.strerror}.", path=shown) from problem
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        note = _share(name, _mode_of(target))
        os.replace(name, target)
    except OSError as problem:
        Path(name).unlink(missing_ok=True)
        raise BadInput(f"cannot be written: {problem.strerror}.", path=shown) from problem
    _flush_folder(target.parent)
    return note


def _share(name: str, mode: int) -> str:
    """Give a file its mode; a sentence where the disk refuses and the file has another. Some disks
    of other systems, and some across a network, know no modes.
    """
    try:
        os.chmod(name, mode)
    except OSError as problem:
        if os.stat(name).st_mode & 0o777 != mode:
            reason = f"{problem.strerror}"
            return f"Written, but who may read it could not be set on this disk: {reason}."
    return ""


def _mode_of(target: Path) -> int:
    """The file's own mode when it exists, else what a new file would get."""
    try:
        return target.stat().st_mode & 0o777
    except OSError:
        mask = os.umask(0)
        os.umask(mask)
        return 0o666 & ~mask


def _flush_folder(folder: Path) -> None:
    """Make the rename itself durable; not every platform lets a folder be opened."""
    try:
        handle = os.open(folder, os.O_RDONLY)
    except OSError:
        return
    try:
        os.fsync(handle)
    except OSError:
        pass
    finally:
        os.close(handle)
