"""The program finds its own files, and nothing outside them."""

from __future__ import annotations

from pathlib import Path

import pytest

from studio import assets


def installed_package(folder: Path) -> Path:
    package = folder / "site-packages" / "studio"
    (package / "_assets" / "demo").mkdir(parents=True)
    (package / "_assets" / "demo" / "body.json").write_text("{}", encoding="utf-8")
    return package


def test_a_source_checkout_has_its_assets_beside_the_package() -> None:
    beside = Path(assets.__file__).resolve().parent.parent / "assets"
    name = next(file.name for file in sorted(beside.iterdir()))
    assert assets.asset_path(name) == beside / name


def test_an_installed_package_has_them_inside(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    package = installed_package(tmp_path)
    monkeypatch.setattr(assets, "_PACKAGE", package)
    assert assets.asset_path("demo/body.json") == package / "_assets" / "demo" / "body.json"


@pytest.mark.parametrize("name", ["no-such-file.json", "../pyproject.toml", "/etc/passwd"])
def test_what_is_not_among_them_is_not_given(name: str) -> None:
    with pytest.raises(FileNotFoundError, match="There is no asset"):
        assets.asset_path(name)
