"""A book held against itself: every reference, quantity and section, all problems at once."""

from collections.abc import Mapping

from baybook.book.checks.check_calculators import check_calculators
from baybook.book.checks.check_cars import check_cars
from baybook.book.checks.check_circuits import check_circuits
from baybook.book.checks.check_complaints import check_complaints, check_suppressed
from baybook.book.checks.check_faults import check_codes_need, check_equipment, check_faults
from baybook.book.checks.check_links import check_files, check_links, check_shared_links
from baybook.book.checks.check_lists import check_lists, check_shared_lists
from baybook.book.checks.check_markdown import check_markdown
from baybook.book.checks.check_names import check_names
from baybook.book.checks.check_order import check_order
from baybook.book.checks.check_quantities import check_gauge
from baybook.book.checks.check_repairs import check_repairs, check_wait
from baybook.book.checks.check_safety import check_safety
from baybook.book.checks.check_sections import check_sections
from baybook.book.checks.check_templates import check_templates, check_text, shared_text
from baybook.book.checks.check_tests import check_tests
from baybook.book.checks.check_texts import check_texts
from baybook.book.checks.check_vehicle import check_vehicle
from baybook.book.context import Context
from baybook.book.pint_quantities import KINDS
from baybook.book.source_model import SYSTEMS, Tool
from baybook.book.sources.load import Book, ProcedureSource
from baybook.book.sources.problem_report import Report, name_hint
from baybook.book.sources.problems import Problem, close_match
from baybook.book.sources.read import dotted
from baycalc.forms.declare import Calculator


def check_book(book: Book, calculators: Mapping[str, Calculator]) -> list[Problem]:
    """Return all problems of a book, sorted: those of reading it, and those found here.

    A source with mistakes of form is checked as far as it can be read; nothing is said of what
    other sources might miss because of it, and warnings about it wait.
    """
    problems = list(book.problems)
    shared = Report(book.shared_lines, problems)
    _check_tools(book.shared.tools, shared)
    check_codes_need(book, shared)
    check_suppressed(book, shared)
    check_wait(shared, book.shared.setups)
    check_shared_lists(book.shared, shared)
    check_shared_links(book, problems)
    problems += check_files(book)
    for name in book.shared_texts:
        check_text(shared_text(book, name), problems)
    for vehicle in (*book.vehicles.values(), *book.draft_vehicles.values()):
        check_vehicle(vehicle, Report(vehicle.lines, problems))
    for source in (*book.procedures.values(), *book.drafts.values()):
        report = Report(source.lines, problems)
        cars = tuple(book.matches(source))
        check_procedure(Context(book, source, calculators, report, cars))
    return sorted(set(problems))


def check_procedure(context: Context) -> None:
    """Check one procedure against itself and its book."""
    source, report = context.source, context.report
    systems = {**SYSTEMS, **context.book.shared.systems}
    if context.data.system not in systems:
        report.error(
            ("system",),
            f"expected a system that a monitor watches, got {context.data.system}",
            close_match(context.data.system, systems)
            or f"{name_hint(context.data.system, systems)}; `systems` of shared.yml adds others",
        )
    _check_served(context)
    _check_leads_on(context)
    _check_known(context)
    own = {name: tool for name, tool in context.data.tools.items() if _written(source, name)}
    _check_tools(own, report)
    shared = context.book.shared.setups
    check_wait(report, {n: s for n, s in context.data.setups.items() if shared.get(n) is not s})
    check_names(context)
    check_cars(context)
    check_faults(context)
    check_circuits(context)
    check_complaints(context)
    check_repairs(context)
    check_equipment(context)
    check_tests(context)
    check_order(context)
    check_safety(context)
    check_lists(context)
    check_calculators(context)
    check_sections(context)
    check_templates(context)
    check_texts(context)
    check_markdown(context)
    check_links(context)


def _written(source: ProcedureSource, tool: str) -> bool:
    return ("tools", tool) in source.lines.by_path


def _check_served(context: Context) -> None:
    if not context.cars and not context.book.vehicles_left_out():
        context.report.error(
            ("vehicles",),
            "expected at least one vehicle that this serves, got none",
            "compare needs and without with `has` of the vehicles",
        )


def _check_leads_on(context: Context) -> None:
    known = context.book.procedure_names()
    for name in context.data.leads_on:
        path = ("leads-on", name)
        context.report.knows(path, name, known, "another procedure")
        if name == context.source.id:
            context.report.error(path, "expected another procedure, got this one")


def _check_known(context: Context) -> None:
    """Check that what is to be left alone is there."""
    places = {dotted(path) for path in context.source.lines.by_path if path}
    for number, place in enumerate(context.data.known):
        path = ("known", number)
        context.report.knows(path, place, places, "the place of a value in this file")


def _check_tools(tools: Mapping[str, Tool], report: Report) -> None:
    for name, tool in tools.items():
        for kind, gauge in tool.gauges.items():
            path = ("tools", name, "gauges", kind)
            if report.knows(path, kind, KINDS, "a kind of quantity"):
                check_gauge(report, path, kind, gauge)
