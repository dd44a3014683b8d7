"""An error says which file, which place and why, as far as it knows."""

from __future__ import annotations

import pytest

from studio.errors import BadInput, BodyRefused, GeometryRefused, NewerVersion, YokewrightError


@pytest.mark.parametrize(
    ("path", "where", "shown"),
    [
        ("", "", "It is too short."),
        ("", "front.side", "front.side: It is too short."),
        ("jeans.json", "", "jeans.json: It is too short."),
        ("jeans.json", "front.side", "jeans.json: front.side: It is too short."),
    ],
)
def test_only_what_is_known_is_told(path: str, where: str, shown: str) -> None:
    error = BadInput("It is too short.", where=where, path=path)
    assert str(error) == shown
    assert (error.message, error.where, error.path) == ("It is too short.", where, path)


def test_what_came_from_a_file_can_be_caught_as_bad_input() -> None:
    assert issubclass(NewerVersion, BadInput)
    assert issubclass(BodyRefused, BadInput)


@pytest.mark.parametrize("kind", [BadInput, NewerVersion, BodyRefused, GeometryRefused])
def test_every_error_for_the_maker_can_be_caught_as_one(kind: type[YokewrightError]) -> None:
    with pytest.raises(YokewrightError, match="No"):
        raise kind("No.")
