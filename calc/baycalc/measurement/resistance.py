"""What a resistance that was held against its band says of a winding."""

from baycalc.measurement.decision import Verdict

OPEN = 5.0
"""Multiple of the greatest resistance allowed above which a winding counts as open [-]."""

SHORTED = 0.3
"""Share of the least resistance allowed below which a winding counts as shorted [-]."""


def is_open(verdict: Verdict) -> bool:
    """Return whether a resistance lies far above its band: common practice, no source."""
    high = verdict.limit.high
    return high is not None and verdict.reading > OPEN * high


def is_shorted(verdict: Verdict) -> bool:
    """Return whether a resistance lies far below its band: common practice, no source."""
    low = verdict.limit.low
    return low is not None and verdict.reading < SHORTED * low


def is_low(verdict: Verdict) -> bool:
    """Return whether a resistance lies below its band."""
    low = verdict.limit.low
    return low is not None and verdict.reading < low
