"""The commands: from a body or a drawing to plotted pieces without a screen; and the window."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

import msgspec

from studio import __version__
from studio.design.file import SUFFIX, load, save
from studio.errors import BadInput, YokewrightError
from studio.exchange.write import FORMATS, write_pieces
from studio.numbers import DECIMAL_UNITS, LengthUnit, retold
from studio.pattern import evaluate

CLEAN, GRAVE, UNUSABLE = 0, 1, 2
"""Exit codes: nothing grave; grave findings; the input could not be used."""

_ALL_FORMATS = ",".join(FORMATS)

_COMMANDS = (
    "demo",
    "draft",
    "import",
    "check",
    "export",
    "draft-along",
    "work-sheet",
    "walk",
    "lay",
    "batch",
)


def main(argv: Sequence[str] | None = None) -> int:
    """Run a command; without one, open the window. Returns the exit code."""
    words = list(sys.argv[1:] if argv is None else argv)
    if not words or (words[0] not in _COMMANDS and not words[0].startswith("-")):
        return _guarded(lambda: _open_window(words))
    arguments = _parser().parse_args(words)
    unit = getattr(arguments, "unit", None)
    told_in: LengthUnit = unit if unit in DECIMAL_UNITS else "mm"
    return _guarded(lambda: int(arguments.run(arguments)), told_in)


def _guarded(run: Callable[[], int], unit: LengthUnit = "mm") -> int:
    """The exit code; what a maker must be told goes to the error output in one line, its lengths in
    a unit.
    """
    try:
        return run()
    except YokewrightError as problem:
        problem.message = retold(problem.message, unit)
        print(f"yokewright: {problem}", file=sys.stderr)
        return UNUSABLE
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return UNUSABLE
    except KeyboardInterrupt:
        return 130


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="yokewright",
        description="A drafting canvas for people who make their own trousers. "
        "With a project file, or with nothing, it opens the window.",
    )
    parser.add_argument("--version", action="version", version=f"yokewright {__version__}")
    commands = parser.add_subparsers(required=True, metavar="COMMAND")

    demo = commands.add_parser("demo", help="write the example, print its ledger, open it")
    demo.add_argument("--to", type=Path, default=Path("yokewright-demo"), metavar="DIR")
    demo.set_defaults(run=_demo)

    draft = commands.add_parser("draft", help="draft a block from a body (JSON)")
    draft.add_argument("body", type=Path, metavar="BODY.json")
    draft.add_argument("-o", "--output", type=Path, required=True, metavar="X.yoke")
    _add_unit(draft, "unit of the body's measures, and of what is told")
    draft.set_defaults(run=_draft)

    drawing = commands.add_parser("import", help="make a block of a drawing (DXF, SVG)")
    drawing.add_argument("drawing", type=Path, metavar="FILE")
    drawing.add_argument("-o", "--output", type=Path, required=True, metavar="X.yoke")
    drawing.add_argument("--unit", choices=("mm", "cm", "m", "inch", "foot"))
    drawing.add_argument(
        "--as-trousers",
        action="store_true",
        help="name front, back and their edges, draw level lines, join the seams",
    )
    drawing.set_defaults(run=_import)

    check = commands.add_parser("check", help="print the seam ledger and what the rules found")
    check.add_argument("project", type=Path, metavar="X.yoke")
    _add_unit(check, "unit of what is told")
    check.add_argument("--json", action="store_true")
    check.set_defaults(run=_check)

    export = commands.add_parser("export", help="write DXF, PDF or PNG files of the pieces")
    export.add_argument("project", type=Path, metavar="X.yoke")
    export.add_argument("--to", type=Path, required=True, metavar="DIR")
    export.add_argument("--as", dest="formats", default=_ALL_FORMATS, metavar=_ALL_FORMATS)
    export.add_argument("--paper", choices=("a4", "letter", "a0"), default="a4")
    _add_unit(export, "unit of what is told on the sheets")
    export.set_defaults(run=_export)

    for name, words, run in (
        ("draft-along", "write a PDF that tells how to draw the pattern by hand", _draft_along),
        (
            "work-sheet",
            "write a PDF of what to cut, how to sew it and in which order",
            _work_sheet,
        ),
    ):
        sheet = commands.add_parser(name, help=words)
        sheet.add_argument("project", type=Path, metavar="X.yoke")
        sheet.add_argument("-o", "--output", type=Path, required=True, metavar="FILE.pdf")
        sheet.add_argument("--paper", choices=("a4", "letter"), default="a4")
        _add_unit(sheet, "unit of what is told")
        sheet.set_defaults(run=run)

    walk = commands.add_parser("walk", help="walk a seam: what it measures, and a picture")
    walk.add_argument("project", type=Path, metavar="X.yoke")
    walk.add_argument("--join", required=True, metavar="NAME")
    _add_unit(walk, "unit of what is told")
    walk.add_argument("--png", type=Path, metavar="FILE.png")
    walk.set_defaults(run=_walk)

    lay = commands.add_parser("lay", help="lay the pieces on the project's stash; plans and files")
    lay.add_argument("project", type=Path, metavar="X.yoke")
    lay.add_argument("--seconds", type=float, default=20.0, metavar="N")
    lay.add_argument("--to", type=Path, required=True, metavar="DIR")
    lay.add_argument("--paper", choices=("a4", "letter"), default="a4")
    _add_unit(lay, "unit of what is told")
    lay.add_argument("--json", action="store_true")
    lay.set_defaults(run=_lay)

    batch = commands.add_parser(
        "batch", help="draft every body of a CSV file, or run a design on each"
    )
    batch.add_argument("design", type=Path, nargs="?", metavar="DESIGN.yoke")
    batch.add_argument("bodies", type=Path, metavar="BODIES.csv")
    batch.add_argument("--to", type=Path, required=True, metavar="DIR")
    batch.add_argument("--jobs", type=int, default=1, metavar="N")
    batch.add_argument(
        "--as",
        dest="formats",
        metavar=_ALL_FORMATS,
        help="write the pieces of each body too, as export does",
    )
    batch.add_argument("--paper", choices=("a4", "letter", "a0"), default="a4")
    _add_unit(batch, "unit of the measures, and of what is told; JSON is in mm")
    batch.add_argument("--json", action="store_true", help="one JSON line a body on the output")
    batch.set_defaults(run=_batch)
    return parser


def _add_unit(command: argparse.ArgumentParser, words: str) -> None:
    command.add_argument("--unit", choices=DECIMAL_UNITS, default="mm", help=words)


def _open_window(words: list[str]) -> int:
    from studio.window.app import run

    if len(words) > 1:
        raise BadInput("opens one project file at a time.", path=words[1])
    return run(Path(words[0]) if words else None, None)


def _demo(arguments: argparse.Namespace) -> int:
    from studio.demo import demo_design
    from studio.exchange.report import report_text
    from studio.window.app import picture_of_window, run, screen_is_there

    design = demo_design()
    folder = _folder(arguments.to)
    save(design, folder / f"orchard-trousers{SUFFIX}")
    pattern = evaluate(design)
    written = write_pieces(pattern, folder, FORMATS, "a4", "orchard-trousers")
    picture = folder / "window.png"
    picture_of_window(design, picture)
    print(report_text(pattern))
    for path in (folder / f"orchard-trousers{SUFFIX}", *written, picture):
        print(path)
    sys.stdout.flush()
    return run(folder / f"orchard-trousers{SUFFIX}", None) if screen_is_there() else CLEAN


def _draft(arguments: argparse.Namespace) -> int:
    from studio.check import all_in_unit
    from studio.design.plain import plain_design
    from studio.exchange.bodies import read_body

    body = read_body(arguments.body, arguments.unit)
    design = plain_design(body)
    try:
        pattern = evaluate(design)
    except YokewrightError as problem:
        problem.path = str(arguments.body)
        problem.message = retold(problem.message, arguments.unit, exact=body.lengths)
        raise
    save(design, arguments.output)
    for finding in all_in_unit(pattern.findings, design, arguments.unit):
        print(f"{finding.gravity}: {finding.where}: {finding.message}", file=sys.stderr)
    print(arguments.output)
    return CLEAN


def _import(arguments: argparse.Namespace) -> int:
    from studio.block.recognised import as_trousers
    from studio.design import ImportedBlock
    from studio.design.plain import design_of_drawing
    from studio.exchange.block_in import read_drawing

    imported = read_drawing(arguments.drawing, arguments.unit)
    design = design_of_drawing(imported, arguments.drawing.stem)
    if arguments.as_trousers:
        try:
            design = as_trousers(design)
        except YokewrightError as problem:
            problem.path = str(arguments.drawing)
            raise
    evaluate(design)
    save(design, arguments.output)
    assert isinstance(design.block, ImportedBlock)
    for panel in design.block.panels:
        print(f"{panel.name}: {', '.join(edge.name for edge in panel.edges)}")
    for sentence in design.block.notes:
        print(f"note: {sentence}", file=sys.stderr)
    for sentence in design.block.left_out:
        print(f"left out: {sentence}", file=sys.stderr)
    print(arguments.output)
    return CLEAN


def _check(arguments: argparse.Namespace) -> int:
    from studio.exchange.report import has_grave, report_text, report_tree

    pattern = evaluate(load(arguments.project))
    if arguments.json:
        print(msgspec.json.format(msgspec.json.encode(report_tree(pattern)), indent=2).decode())
    else:
        print(report_text(pattern, arguments.unit), end="")
    return GRAVE if has_grave(pattern) else CLEAN


def _export(arguments: argparse.Namespace) -> int:
    formats = _formats(arguments.formats)
    pattern = evaluate(load(arguments.project))
    folder = _folder(arguments.to)
    stem = arguments.project.stem
    written = write_pieces(pattern, folder, formats, arguments.paper, stem, arguments.unit)
    for path in written:
        print(path)
    return CLEAN


def _formats(words: str) -> tuple[str, ...]:
    """The formats that are asked for, each once."""
    formats = tuple(dict.fromkeys(word.strip().lower() for word in words.split(",")))
    unknown = [word for word in formats if word not in FORMATS]
    if unknown:
        raise BadInput(
            f"unknown format {unknown[0]!r}; known are {', '.join(FORMATS)}.", where="--as"
        )
    return formats


def _draft_along(arguments: argparse.Namespace) -> int:
    from studio.exchange.sheet_pdf import write_along

    pattern = evaluate(load(arguments.project))
    write_along(pattern, arguments.output, paper=arguments.paper, unit=arguments.unit)
    print(arguments.output)
    return CLEAN


def _work_sheet(arguments: argparse.Namespace) -> int:
    from studio.exchange.sheet_pdf import write_sheet
    from studio.exchange.work_sheet import work_sheet_of

    pattern = evaluate(load(arguments.project))
    sheet = work_sheet_of(pattern, arguments.unit)
    write_sheet(sheet, arguments.output, paper=arguments.paper)
    print(arguments.output)
    return CLEAN


def _walk(arguments: argparse.Namespace) -> int:
    from studio.exchange.walk_words import walk_of, walk_words

    pattern = evaluate(load(arguments.project))
    for sentence in walk_words(walk_of(pattern, arguments.join), arguments.unit):
        print(sentence)
    if arguments.png is not None:
        from studio.exchange.walk_picture import write_walk

        write_walk(pattern, arguments.join, arguments.png, arguments.unit)
        print(arguments.png)
    return CLEAN


def _lay(arguments: argparse.Namespace) -> int:
    from studio.exchange.lay_report import lay_text, lay_tree
    from studio.laying import laid_out

    if not arguments.seconds >= 0.0:
        raise BadInput("should be 0 or more.", where="--seconds")
    design = load(arguments.project)
    if not design.stash:
        raise BadInput("holds no stash to lay the pieces on.", path=str(arguments.project))
    folder = _folder(arguments.to)
    pattern, left, written = laid_out(
        evaluate(design),
        arguments.seconds,
        folder,
        arguments.project.stem,
        paper=arguments.paper,
        unit=arguments.unit,
    )
    if arguments.json:
        tree = lay_tree(pattern, left) | {"files": [str(path) for path in written]}
        print(msgspec.json.format(msgspec.json.encode(tree), indent=2).decode())
    else:
        print(lay_text(pattern, left, arguments.unit))
        for path in written:
            print(path)
    return GRAVE if left else CLEAN


def _batch(arguments: argparse.Namespace) -> int:
    from studio.batch import Sheets, run_batch
    from studio.exchange.bodies import read_bodies
    from studio.progress import Progress

    if arguments.jobs < 1:
        raise BadInput("should be 1 or more.", where="--jobs")
    rows = read_bodies(arguments.bodies, arguments.unit)
    if not rows:
        raise BadInput("holds no bodies below its header.", path=str(arguments.bodies))
    formats = _formats(arguments.formats) if arguments.formats is not None else ()
    folder = _folder(arguments.to)
    design = load(arguments.design) if arguments.design else None
    sheets = Sheets(formats, arguments.paper, arguments.unit)
    # What programs read is in mm; what people read is in the unit they measured in.
    told_in: LengthUnit = "mm" if arguments.json else arguments.unit
    refused = flagged = 0
    with Progress(len(rows), sys.stderr) as progress:
        for result in run_batch(rows, folder, arguments.jobs, design, told_in, sheets):
            refused += "refused" in result
            grave = [one for one in result.get("findings", ()) if one["gravity"] == "grave"]
            flagged += bool(grave)
            progress.clear()
            if arguments.json:
                print(msgspec.json.encode(result).decode(), flush=True)
            else:
                for said in _said_of(result, grave if design is not None else ()):
                    print(f"line {result['row']}: {said}")
            progress.step()
    if not arguments.json:
        told = "" if design is None else f", {flagged} with grave findings"
        print(f"{len(rows) - refused} drafted, {refused} refused{told}, in {folder}")
    return CLEAN


def _said_of(result: Mapping[str, Any], grave: Sequence[Mapping[str, Any]]) -> Iterator[str]:
    """Of a body of a batch: why it was refused, what is grave, what was not written."""
    if "refused" in result:
        yield f"refused: {result['refused']}"
    for one in grave:
        yield f"{one['where']}: {one['message']}"
    if "unwritten" in result:
        yield f"not written: {result['unwritten']}"


def _folder(path: Path) -> Path:
    try:
        path.mkdir(parents=True, exist_ok=True)
    except OSError as problem:
        raise BadInput(f"cannot be made: {problem.strerror}.", path=str(path)) from problem
    return path
