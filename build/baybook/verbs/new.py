"""`baybook new`: a skeleton of a procedure or a vehicle, to be filled in."""

import argparse
import re
from pathlib import Path

from baybook.verbs.folders import CONFIG, SOURCES, sources_named
from baybook.verbs.misuse import Misused

HELP = "write the skeleton of a procedure or a vehicle"
_SKELETONS = Path(__file__).parent.parent / "skeletons"
_ID = re.compile(r"[a-z][a-z0-9-]*")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare what the verb takes."""
    parser.add_argument(
        "what", choices=["procedure", "vehicle"], metavar="WHAT", help="procedure or vehicle"
    )
    parser.add_argument(
        "name", metavar="NAME", help="its id, such as air-pump: the name of the file"
    )
    parser.add_argument(
        "--folder", type=Path, help=f"folder of the sources (default: as {CONFIG} says, {SOURCES})"
    )


def run(args: argparse.Namespace) -> int:
    """Write the skeleton; a file that is there is never touched."""
    if not _ID.fullmatch(args.name):
        raise Misused(
            f"expected a name of lower-case letters, digits and hyphens, got {args.name}",
            f"such as {_suggested(args.name)}",
        )
    folder = args.folder or sources_named(Path())
    path = _path(folder, args.what, args.name)
    text = (_SKELETONS / f"{args.what}{path.suffix}").read_text(encoding="utf-8")
    _write_new(path, text.replace("TITLE", args.name.replace("-", " ").capitalize()))
    print(f"wrote {path}\n{_next_step(folder, args.what)}")
    return 0


def _suggested(name: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-0123456789") or "air-pump"


def _path(folder: Path, what: str, name: str) -> Path:
    return folder / f"{name}.md" if what == "procedure" else folder / "vehicles" / f"{name}.yml"


def _write_new(path: Path, text: str) -> None:
    if path.exists():
        raise Misused(f"expected a new name, got {path}, which exists", "choose another")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("x", encoding="utf-8") as file:
            file.write(text)
    except OSError as error:
        raise Misused(f"cannot write {path}: {error.strerror}") from error


def _next_step(folder: Path, what: str) -> str:
    if what == "procedure" and not any((folder / "vehicles").glob("*.y*ml")):
        return "next: a book needs a vehicle too: baybook new vehicle NAME"
    return "next: fill it in, and run baybook check"
