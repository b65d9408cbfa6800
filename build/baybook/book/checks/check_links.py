"""Links, pictures and files of texts: they are there, and say what they show."""

from collections.abc import Collection

from baybook.book.context import Context
from baybook.book.files import find_file, find_procedure, missing_file, used_files
from baybook.book.prose.links import is_elsewhere, links
from baybook.book.sources.load import Book
from baybook.book.sources.problem_report import name_hint
from baybook.book.sources.problems import Problem
from baybook.book.sources.read import Path
from baybook.book.sources.sections import anchors
from baybook.book.sources.walk import PICTURES

HEAVY = 8_000_000
"""Size of a file beyond which a copy of the book gets heavy [B]."""


def check_links(context: Context) -> None:
    """Check the links of the sections of a procedure, and its pictures."""
    source, report = context.source, context.report
    own = anchors(source.sections)
    for section in source.sections:
        found = check_text_links(context.book, source.lines.file, section.text, own)
        for line, text, hint, severity in found:
            report.at_line(section.text_line + line, text, hint, severity)
    for name, picture in context.data.pictures.items():
        if find_file(context.book, picture.file, source.lines.file) is None:
            report.error(("pictures", name, "file"), *missing_file(context.book, picture.file))
        for part in picture.marks:
            path: Path = ("pictures", name, "marks", part)
            report.knows(path, part, context.data.parts, "a part of this procedure")


def check_shared_links(book: Book, problems: list[Problem]) -> None:
    """Check the links of the shared texts; an anchor may be on the page that uses one."""
    for name, text in book.shared_texts.items():
        file = book.shared_text_files[name]
        for line, *what in check_text_links(book, file, text, None):
            problems.append(Problem(file, 1 + line, "", *what))


def check_text_links(
    book: Book, file: str, text: str, own: Collection[str] | None
) -> list[tuple[int, str, str, str]]:
    """Return what is wrong with the links of a text: line from 0, text, hint, severity."""
    found = []
    for link in links(text):
        if link.mute:
            what = "expected a picture with words for those who cannot see it, got none"
            hint = f"write them in the brackets: ![a hand pump]({link.target})"
            found.append((link.line, what, hint, "warning"))
        if not is_elsewhere(link.target):
            wrong = _wrong_target(book, link.target, file, own)
            if wrong:
                found.append((link.line, *wrong, "error"))
    return found


def _wrong_target(
    book: Book, target: str, file: str, own: Collection[str] | None
) -> tuple[str, str] | None:
    name, _, anchor = target.partition("#")
    known = own
    if name.endswith(".md"):
        procedure = find_procedure(book, name, file)
        if procedure is None:
            return missing_file(book, name)
        known = anchors({**book.drafts, **book.procedures}[procedure].sections)
    elif name:
        return None if find_file(book, name, file) else missing_file(book, name)
    if anchor and known is not None and anchor not in known:
        what = f"expected a heading or a test of this id, got #{anchor}"
        return what, name_hint(anchor, sorted(known))
    return None


def check_files(book: Book) -> list[Problem]:
    """Warn of files that no text uses, and of those that are heavy."""
    found: list[Problem] = []
    used = used_files(book)
    for place, path in book.files.items():
        file = f"{book.folder}/{place}"
        if place not in used:
            what = "expected a text that shows or offers this file, got none"
            hint = "take it out, or let its name begin with a dot"
            found.append(Problem(file, 0, "", what, hint, "warning"))
        size = path.stat().st_size
        if size > HEAVY:
            picture = path.suffix.lower() in PICTURES
            what = f"expected a file of at most {HEAVY / 1e6:.0f} MB, got {size / 1e6:.0f} MB"
            hint = "scale it down" if picture else "it makes every copy of the book heavy"
            found.append(Problem(file, 0, "", what, hint, "warning"))
    return found
