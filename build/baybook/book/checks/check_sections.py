"""The sections of a procedure's body: the fixed ones, one for each test, one for each repair."""

import difflib
import re
from collections.abc import Iterable

from baybook.book.context import Context
from baybook.book.sources.problem_report import Report, name_hint
from baybook.book.sources.sections import Section

SECTIONS = {
    "how-it-works": "How it works",
    "tests": "Tests",
    "before-fitting": "Before fitting a part",
    "fitting": "Fitting",
    "proof": "Proving the repair",
    "meanwhile": "Driving it meanwhile",
    "lessons": "For a class",
}
"""The fixed sections of level 2, in order: title by id."""


def check_sections(context: Context) -> None:
    """Check that the body has each section once, in its place, and filled."""
    source, report = context.source, context.report
    if source.before_sections:
        report.at_line(
            source.before_sections,
            "expected a heading first, got text before it",
            f"start with {_heading('how-it-works')}",
        )
    _check_headings(source.sections, report)
    _check_fixed([section for section in source.sections if section.level == 2], report)
    _check_tests(context)
    _check_repairs(context)


def _heading(name: str) -> str:
    return f"## {SECTIONS[name]} {{#{name}}}"


def _id_hint(section: Section, wanted: Iterable[str]) -> str:
    """Return how a heading without an id is given one, most likely one that is looked for."""
    if section.id:
        return ""
    titles = [name for name, title in SECTIONS.items() if title == section.title]
    words = re.sub(r"[^a-z0-9]+", "-", section.title.lower()).strip("-0123456789")
    near = titles or difflib.get_close_matches(words, [*wanted], n=1, cutoff=0.5) or [words]
    return f"add {{#{near[0]}}} to this heading" if near[0] else ""


def _check_headings(sections: Iterable[Section], report: Report) -> None:
    first: dict[str, int] = {}
    for section in sections:
        if section.level == 1:
            report.at_line(
                section.line,
                f"expected a heading of level 2 or more, got # {section.title}",
                "the page's title is the title of the front matter",
            )
        if section.id and section.id in first:
            report.at_line(
                section.line,
                f"expected each id once, got {section.id} again "
                f"(first on line {first[section.id]})",
                "rename one of the two",
            )
        first.setdefault(section.id, section.line)


def _check_fixed(found: list[Section], report: Report) -> None:
    for section in found:
        if section.id not in SECTIONS:
            report.at_line(
                section.line,
                f"expected a fixed section, got {section.id or section.title}",
                _id_hint(section, SECTIONS) or name_hint(section.id, SECTIONS),
            )
    placed = {section.id: section for section in found if section.id in SECTIONS}
    for name in SECTIONS:
        if name not in placed:
            report.at_line(
                _place_for(name, placed, report),
                f"expected a section {name}, got none",
                f"add the heading {_heading(name)}",
            )
    wanted = [name for name in SECTIONS if name in placed]
    for section, name in zip(placed.values(), wanted, strict=True):
        if section.id != name:
            report.at_line(
                section.line,
                f"expected section {name} here, got {section.id}",
                f"the order is {', '.join(SECTIONS)}",
            )
            return


def _place_for(name: str, placed: dict[str, Section], report: Report) -> int:
    """Return the line of the section before which a missing one belongs, or of the last one."""
    order = list(SECTIONS)
    after = [placed[other].line for other in order[order.index(name) :] if other in placed]
    before = [section.line for section in placed.values()]
    return after[0] if after else max(before, default=report.lines.first)


def _check_tests(context: Context) -> None:
    report, tests = context.report, context.data.tests
    found = context.source.under("tests")
    for section in found:
        if section.id not in tests:
            report.at_line(
                section.line,
                f"expected a test of the front matter, got section {section.id or section.title}",
                _id_hint(section, tests) or name_hint(section.id, tests),
            )
        elif not section.text:
            report.at_line(section.line, f"expected steps under {section.id}, got nothing")
    ids = [section.id for section in found]
    for name in tests:
        if name not in ids:
            report.error(
                ("tests", name),
                "expected a section of this id under tests, got none",
                f"add the heading ### {tests[name].title} {{#{name}}}",
            )


def _check_repairs(context: Context) -> None:
    report, faults = context.report, context.data.faults
    found = {section.id: section for section in context.source.under("fitting")}
    used = set()
    for name, fault in faults.items():
        path = ("faults", name, "repair", "section")
        used.add(fault.repair.section)
        known = [name for name in found if name]
        report.knows(path, fault.repair.section, known, "a section under fitting")
    for name, section in found.items():
        if name not in used and "" not in used:
            report.at_line(
                section.line,
                f"expected a section that a fault's repair names, got {name or section.title}",
                _id_hint(section, used) or name_hint(name, sorted(used)),
            )
        elif not section.text:
            report.at_line(section.line, f"expected steps under {name}, got nothing")
