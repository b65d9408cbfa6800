"""Complaints, and how often a cause lies outside: what speaks before any test is made."""

from baybook.book.context import Context
from baybook.book.sources.load import Book
from baybook.book.sources.problem_report import Report


def check_complaints(context: Context) -> None:
    """Check the complaints of the faults, and the codes of the shares outside."""
    data, report = context.data, context.report
    for name, fault in data.faults.items():
        for complaint in fault.complaints:
            path = ("faults", name, "complaints", complaint)
            report.knows(path, complaint, data.complaints, "a complaint of this procedure")
    for code in data.outside_with:
        report.knows(("outside-with", code), code, data.codes, "a code of this procedure")


def check_suppressed(book: Book, report: Report) -> None:
    """Check the codes that hide one another."""
    for code, entry in book.shared.codes.items():
        for place, other in enumerate(entry.suppresses):
            if other == code:
                path = ("codes", code, "suppresses", place)
                report.error(path, f"expected another code, got {code} itself")
