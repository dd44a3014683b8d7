"""Where the files that come with the program are: pictures, the demo, the schema."""

from __future__ import annotations

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def asset_path(name: str) -> Path:
    """The file or folder of that name among the program's own assets.

    An installed wheel carries them inside the package; in a source checkout they lie beside it.

    Args:
        name: A path below the assets folder, written with forward slashes.

    Raises:
        FileNotFoundError: There is no such asset, or the name leads out of the folder.
    """
    folder = _assets_folder()
    found = (folder / name).resolve()
    if not found.is_relative_to(folder) or not found.exists():
        raise FileNotFoundError(f"There is no asset {name!r} in {folder}.")
    return found


def _assets_folder() -> Path:
    shipped = _PACKAGE / "_assets"
    return shipped if shipped.is_dir() else _PACKAGE.parent / "assets"
