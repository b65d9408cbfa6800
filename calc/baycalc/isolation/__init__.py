"""Fault isolation: what is still suspect, what to test next and why, and what a procedure can do.

Everything here takes and gives plain JSON; the modules below hold the typed parts.
"""

from baycalc.isolation.api import diagnosability, evaluate, figures, plan, simulation

__all__ = ["diagnosability", "evaluate", "figures", "plan", "simulation"]
