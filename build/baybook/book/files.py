"""Pictures and attachments of a book: what a text means by a name, and which are used."""

import re
from collections.abc import Iterator
from pathlib import Path

from baybook.book.prose.links import is_elsewhere, links, place_of
from baybook.book.sources.load import Book
from baybook.book.sources.problem_report import name_hint

_WORD = re.compile(r"\{\{\s*(?:picture|video|file)\(\s*[\"']([^\"']+)[\"']")


def find_file(book: Book, target: str, file: str) -> str | None:
    """Return the place below the sources that a target means, or nothing.

    Parameters
    ----------
    book : Book
        The sources.
    target : str
        What a text writes, such as ``img/neck.png``.
    file : str
        The file of the text, as problems show it.
    """
    return next((place for place in place_of(target, file) if place in book.files), None)


def find_procedure(book: Book, target: str, file: str) -> str | None:
    """Return the procedure whose source a target names, or nothing."""
    places = _procedures(book)
    return next((places[place] for place in place_of(target, file) if place in places), None)


def _procedures(book: Book) -> dict[str, str]:
    """Return the procedures by the place of their sources."""
    every = {**book.drafts, **book.procedures}
    return {each.lines.file.removeprefix(f"{book.folder}/"): name for name, each in every.items()}


def missing_file(book: Book, target: str) -> tuple[str, str]:
    """Say that a file is not there, with one of its name elsewhere."""
    known = [*book.files, *_procedures(book)]
    same = [place for place in known if Path(place).name == Path(target).name]
    hint = f"there is {same[0]}" if same else name_hint(target, known)
    return f"expected a file below the sources, got {target}", hint


def used_files(book: Book) -> set[str]:
    """Return the places of the files that some text shows or offers."""
    found = (find_file(book, target, file) for target, file in _targets(book))
    return {place for place in found if place}


def _targets(book: Book) -> Iterator[tuple[str, str]]:
    for source in (*book.procedures.values(), *book.drafts.values()):
        file = source.lines.file
        for picture in source.data.pictures.values():
            yield picture.file, file
        for section in source.sections:
            yield from _targets_of(section.text, file)
    for name, text in book.shared_texts.items():
        yield from _targets_of(text, book.shared_text_files[name])


def _targets_of(text: str, file: str) -> Iterator[tuple[str, str]]:
    for link in links(text):
        if not is_elsewhere(link.target):
            yield link.target, file
    for target in _WORD.findall(text):
        yield target, file
