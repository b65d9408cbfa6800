"""Fault isolation: what is still suspect, what to test next and why, and what a procedure can do.

The functions here take and give plain JSON; the modules below hold the typed parts.
"""

from baycalc.isolation.engine import (
    diagnosability,
    evaluate,
    figures,
    first_answers,
    open_network,
    plan,
    plan_starts,
    simulation,
)

__all__ = [
    "diagnosability",
    "evaluate",
    "figures",
    "first_answers",
    "open_network",
    "plan",
    "plan_starts",
    "simulation",
]
