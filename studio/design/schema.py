"""The JSON Schema of project files, for other programs; `assets/project.schema.json` holds it."""

from __future__ import annotations

import msgspec

from studio.design.file import ProjectFile

SCHEMA_ASSET = "project.schema.json"


def schema_text() -> str:
    """The schema as indented JSON, ending in a line break."""
    schema = msgspec.json.schema(ProjectFile)
    schema = {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema}
    return (
        msgspec.json.format(msgspec.json.encode(schema, order="sorted"), indent=2).decode() + "\n"
    )
