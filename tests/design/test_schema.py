"""The published schema says what the program reads."""

import json

import jsonschema
import pytest

from studio.assets import asset_path
from studio.demo import demo_design
from studio.design.file import encoded
from studio.design.schema import SCHEMA_ASSET, schema_text


def test_the_asset_is_in_step_with_the_program():
    assert asset_path(SCHEMA_ASSET).read_text(encoding="utf-8") == schema_text()


def test_a_project_file_satisfies_the_schema():
    jsonschema.validate(json.loads(encoded(demo_design())), json.loads(schema_text()))


@pytest.mark.parametrize(
    "change",
    [
        lambda tree: tree["design"]["body"].update(hip_girth="wide"),
        lambda tree: tree["design"].update(colour="blue"),
        lambda tree: tree["design"]["lines"][0].update(kind="zip"),
    ],
)
def test_the_schema_refuses_what_the_program_refuses(change):
    tree = json.loads(encoded(demo_design()))
    change(tree)
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(tree, json.loads(schema_text()))
