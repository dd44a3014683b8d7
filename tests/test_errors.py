"""An error says which file, which place and why, as far as it knows."""

from __future__ import annotations

import pickle

import pytest

from studio.errors import (
    BadInput,
    BodyRefused,
    GeometryRefused,
    NewerVersion,
    Told,
    YokewrightError,
    told_of,
)


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


def test_a_sentence_brings_the_lengths_it_speaks_of_wherever_it_is_told() -> None:
    error = GeometryRefused("It is 1.5 mm long. Make it 2.0 mm.", where="shin", exact=(1.46, 2.04))
    assert (error.exact, error.sentence.exact) == ((1.46, 2.04), (1.46, 2.04))
    assert GeometryRefused(error.message, where="knee").exact == (1.46, 2.04)
    again = pickle.loads(pickle.dumps(error.sentence))
    assert (again, again.exact) == ("It is 1.5 mm long (shin). Make it 2.0 mm.", (1.46, 2.04))
    joined = Told.joined(("A plain one.", Told("1 mm off.", (0.9,)), "", Told("2 mm.", (1.8,))))
    assert (joined, joined.exact) == ("A plain one. 1 mm off. 2 mm.", (0.9, 1.8))


def test_what_came_from_a_file_can_be_caught_as_bad_input() -> None:
    assert issubclass(NewerVersion, BadInput)
    assert issubclass(BodyRefused, BadInput)


@pytest.mark.parametrize("kind", [BadInput, NewerVersion, BodyRefused, GeometryRefused])
def test_every_error_for_the_maker_can_be_caught_as_one(kind: type[YokewrightError]) -> None:
    with pytest.raises(YokewrightError, match="No"):
        raise kind("No.")


@pytest.mark.parametrize(
    ("message", "where", "told"),
    [
        ("There is no dart.", "front", "There is no dart (front)."),
        ("front has no dart.", "front", "front has no dart."),
        ("back.rise is 1.5 mm long.", "back.rise", "back.rise is 1.5 mm long."),
        ("It is 1.5 mm long. Make it longer.", "shin", "It is 1.5 mm long (shin). Make it longer."),
        ("The hip girth is too small.", "hip_girth", "The hip girth is too small."),
        ("The part needs a name.", "name", "The part needs a name."),
        ("No full stop", "front", "No full stop"),
        ("It is too short.", "", "It is too short."),
    ],
)
def test_in_a_window_a_refusal_is_a_sentence_that_begins_with_no_place(message, where, told):
    assert BadInput(message, where=where).sentence == told
    assert told_of(BadInput(message, where=where)) == told
    # Of a file the line says file and place first.
    read = BadInput(message, where=where, path="jeans.json")
    assert read.sentence == str(read)
    assert read.sentence.startswith("jeans.json: ")


def test_of_a_problem_of_another_kind_its_own_words_are_told():
    assert told_of(OSError("no room")) == "no room"
