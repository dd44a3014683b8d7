"""The JSON Schema of project files, for other programs; `assets/project.schema.json` holds it."""

from __future__ import annotations

from inspect import cleandoc
from typing import Any

import msgspec

from studio.design.file import ProjectFile

SCHEMA_ASSET = "project.schema.json"


def schema_text() -> str:
    """The schema of project files as indented JSON, ending in a line break."""
    return schema_of(ProjectFile)


def schema_of(kind: type) -> str:
    """The JSON Schema of a kind of file as indented JSON, ending in a line break."""
    schema = {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        **_told(msgspec.json.schema(kind)),
    }
    return (
        msgspec.json.format(msgspec.json.encode(schema, order="sorted"), indent=2).decode() + "\n"
    )


def _told(part: Any) -> Any:
    """A part of the schema with its descriptions as docstrings are read: without the indentation of
    the program, which Python keeps up to 3.12 and takes off from 3.13 on.
    """
    if isinstance(part, dict):
        return {
            key: cleandoc(value)
            if key == "description" and isinstance(value, str)
            else _told(value)
            for key, value in part.items()
        }
    return [_told(one) for one in part] if isinstance(part, list) else part
