"""Which procedures serve a car, and which of their pages is for its equipment."""

from collections.abc import Collection, Mapping
from typing import Any

Procedure = Mapping[str, Any]
"""``needs``, ``without`` and ``any`` (equipment), and ``pages``: each with ``name``, ``has``,
``not``, the equipment that makes a difference to the procedure."""


def serves(procedure: Procedure, has: Collection[str]) -> bool:
    """Tell whether a procedure is for a car with this equipment."""
    return (
        set(procedure["needs"]) <= set(has)
        and not set(procedure["without"]) & set(has)
        and (not procedure["any"] or bool(set(procedure["any"]) & set(has)))
    )


def page_for(procedure: Procedure, has: Collection[str]) -> tuple[str, list[str], list[str]]:
    """Return the page that is nearest to a car's equipment.

    Returns
    -------
    name : str
        Its name; empty where the procedure has no page.
    more : list of str
        Equipment that the page is for and the car has not.
    less : list of str
        Equipment that the car has and the page is not for.
    """
    best: tuple[str, list[str], list[str]] | None = None
    for page in procedure["pages"]:
        more = [item for item in page["has"] if item not in has]
        less = [item for item in page["not"] if item in has]
        if best is None or len(more) + len(less) < len(best[1]) + len(best[2]):
            best = (page["name"], more, less)
    return best or ("", [], [])


def difference(more: list[str], less: list[str], words: Mapping[str, str]) -> str:
    """Say how a page differs from a car; nothing where it does not."""
    if not more and not less:
        return ""
    parts = []
    if more:
        parts.append("is written for a car with " + _listed(more, words))
    if less:
        parts.append("leaves out " + _listed(less, words))
    nearest = " and ".join(parts)
    return (
        f"No page of this procedure is for exactly this equipment. The nearest one {nearest}. "
        "Leave out what your car does not have, and take nothing for tested that is not there."
    )


def _listed(items: list[str], words: Mapping[str, str]) -> str:
    return ", ".join(words.get(item, item) for item in items)
