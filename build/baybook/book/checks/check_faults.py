"""References of parts and faults, and what no one would find."""

from collections.abc import Iterable

from baybook.book.codes import code_problem
from baybook.book.context import Context
from baybook.book.source_model import Needs
from baybook.book.sources.load import Book
from baybook.book.sources.problem_report import Report, name_hint
from baybook.book.sources.read import Path


def check_faults(context: Context) -> None:
    """Check parts, faults and codes."""
    _check_parts(context)
    _check_codes(context)
    _check_groups(context)
    shown = {
        fault
        for test in context.data.tests.values()
        for seen in test.observations.values()
        for fault in seen.shown()
    }
    for name in context.data.faults:
        _check_fault(context, name)
        if name not in shown:
            context.report.warning(
                ("faults", name),
                "expected a test that shows this fault, got none",
                "add it to `shows` of an observation",
            )


def _check_parts(context: Context) -> None:
    parts = context.data.parts
    for name, part in parts.items():
        for flow, others in part.joins.items():
            for place, other in enumerate(others):
                path = ("parts", name, "joins", flow, place)
                context.report.knows(path, other, parts, "a part of this procedure")
                if other == name:
                    context.report.error(path, f"expected another part, got {name} itself")


def _check_codes(context: Context) -> None:
    set_by_faults = {code for fault in context.data.faults.values() for code in fault.sets}
    for place, code in enumerate(context.data.codes):
        path = ("codes", place)
        problem, hint = code_problem(code)
        cars = (car.data.code_titles for car in context.cars)
        if problem and not (
            context.source.code_title(code) or all(code in titles for titles in cars)
        ):
            context.report.warning(path, problem, hint)
        if code in context.data.codes[:place]:
            context.report.error(path, f"expected each code once, got {code} again")
        elif code not in set_by_faults:
            context.report.warning(
                path,
                f"expected a fault that sets {code}, got none",
                "add it to `sets` of a fault",
            )


def _check_fault(context: Context, name: str) -> None:
    data, report = context.data, context.report
    fault = data.faults[name]
    path: Path = ("faults", name)
    if report.knows((*path, "part"), fault.part, data.parts, "a part of this procedure"):
        _check_when(context, (*path, "part"), fault.when, data.parts[fault.part].when)
    for code in fault.sets:
        if code not in data.codes and "" not in data.codes:
            text = f"expected a code listed under codes, got {code}"
            report.error((*path, "sets", code), text, "add it to codes, or take it out here")
    for other in fault.leads_to:
        there = (*path, "leads-to", other)
        report.knows(there, other, data.faults, "a fault of this procedure")
        if other == name:
            report.error(there, "expected another fault, got this fault itself")


def _check_groups(context: Context) -> None:
    stated: set[str] = set()
    for place, group in enumerate(context.data.ambiguity_groups):
        path: Path = ("ambiguity-groups", place)
        if len(group) < 2:
            context.report.error(
                path,
                f"expected two faults or more, got {len(group)}",
                "a fault that the tests separate from every other one is in no group",
            )
        for member, fault in enumerate(group):
            there = (*path, member)
            context.report.knows(there, fault, context.data.faults, "a fault of this procedure")
            if fault in stated:
                context.report.error(
                    there,
                    f"expected each fault in one ambiguity group, got {fault} again",
                    "groups that share a fault are one group",
                )
            stated.add(fault)


def _check_when(context: Context, path: Path, own: Needs, part: Needs) -> None:
    """Report a fault that is weighed on cars that lack its part."""
    lacking = sorted(set(part.needs) - set(own.needs) - set(context.data.vehicles.needs))
    if lacking:
        context.report.error(
            path,
            f"expected a part of every vehicle that has this fault, got one only with "
            f"{', '.join(lacking)}",
            f"add when: [{', '.join(lacking)}] to the fault",
        )
        return
    without = [car for car in context.cars_with(own) if not part.fits(car.data.has)]
    if without:
        context.report.error(
            path,
            "expected a part of every vehicle that has this fault, got one that "
            f"{without[0].lines.file} lacks",
            "compare `when` of the part and of the fault",
        )


def check_equipment(context: Context) -> None:
    """Warn of equipment that no vehicle has: most likely it is misspelt."""
    _check_known(context.book, context.report, _equipment(context))


def check_codes_need(book: Book, report: Report) -> None:
    """Check which equipment the codes of the shared file need."""
    needs = book.shared.codes_need
    places = [
        (("codes-need", code, place), name)
        for code, names in needs.items()
        for place, name in enumerate(names)
    ]
    _check_known(book, report, places)
    if book.procedure_names() != sorted(book.procedures):
        return
    used = {code for source in book.procedures.values() for code in source.data.codes}
    for code in needs:
        if code not in used:
            report.warning(
                ("codes-need", code),
                f"expected a code that leads to a procedure, got {code}",
                name_hint(code, sorted(used)),
            )


def _check_known(book: Book, report: Report, equipment: Iterable[tuple[Path, str]]) -> None:
    if book.vehicles_left_out():
        return
    known = sorted({name for car in book.vehicles.values() for name in car.data.has})
    for path, name in equipment:
        if name not in known:
            report.warning(
                path, f"expected equipment that a vehicle has, got {name}", name_hint(name, known)
            )


def _equipment(context: Context) -> list[tuple[Path, str]]:
    data = context.data
    conditions: list[tuple[Path, Needs]] = [(("vehicles",), data.vehicles)]
    for group, records in (("parts", data.parts), ("faults", data.faults), ("tests", data.tests)):
        conditions += [((group, name, "when"), record.when) for name, record in records.items()]
    lines = context.report.lines.by_path
    return [
        ((*path, part, place) if (*path, part) in lines else (*path, place), name)
        for path, condition in conditions
        for part in ("needs", "without", "any")
        for place, name in enumerate(getattr(condition, part))
    ]
