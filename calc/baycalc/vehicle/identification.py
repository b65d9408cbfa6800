"""The vehicle identification number: characters, check digit, model year, place of the maker.

References
----------
ISO 3779 (characters, length), ISO 3780 (first character); 49 CFR 565.15 (check digit, model year).
"""

LENGTH = 17
"""Characters of a number [-]."""

CHECK_POSITION = 9
"""Place of the check digit, counted from 1 [-]."""

YEAR_POSITION = 10
"""Place of the model year, counted from 1 [-]."""

FORBIDDEN = "IOQ"
"""Letters that no number holds: they look like digits (ISO 3779)."""

_VALUES = {
    **{digit: int(digit) for digit in "0123456789"},
    **dict(zip("ABCDEFGH", range(1, 9), strict=True)),
    **dict(zip("JKLMN", range(1, 6), strict=True)),
    "P": 7,
    "R": 9,
    **dict(zip("STUVWXYZ", range(2, 10), strict=True)),
}
_WEIGHTS = (8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2)
_YEARS = "ABCDEFGHJKLMNPRSTVWXY123456789"
_FIRST_YEAR = 1980
_CYCLE = len(_YEARS)

_PLACES = (
    ("ABCDEFGH", "Africa"),
    ("JKLMNPR", "Asia"),
    ("STUVWXYZ", "Europe"),
    ("12345", "North America"),
    ("67", "Oceania"),
    ("89", "South America"),
)


def plain(typed: str) -> str:
    """Return a number as it is stamped: capitals, without blanks and hyphens."""
    return "".join(typed.upper().split()).replace("-", "")


def problem(number: str) -> str:
    """Return what is wrong with the characters of a number, or nothing."""
    wrong = sorted({each for each in number if each not in _VALUES})
    letters = [each for each in wrong if each in FORBIDDEN]
    if letters:
        return (
            f"{' and '.join(letters)} cannot be in it: 1 and 0 are digits, and I, O and Q are "
            "never used."
        )
    if wrong:
        return f"{wrong[0]} cannot be in it: only digits and capitals without I, O and Q."
    if len(number) != LENGTH:
        return f"It has {LENGTH} characters from model year 1981 on; this has {len(number)}."
    return ""


def check_digit(number: str) -> str:
    """Return the check digit that belongs to a number: 0 to 9, or X for 10."""
    total = sum(_VALUES[each] * weight for each, weight in zip(number, _WEIGHTS, strict=True))
    return "0123456789X"[total % 11]


def place(number: str) -> str:
    """Return the part of the world that the maker's code is given in, ISO 3780."""
    return next((name for firsts, name in _PLACES if number[0] in firsts), "not given")


def is_north_american(number: str) -> bool:
    """Return whether the maker's code is of North America, where the check digit is required."""
    return number[0] in "12345"


def model_years(number: str) -> tuple[int, ...]:
    """Return the model years that a number can mean, the likely one first; none without one.

    Notes
    -----
    The code repeats every 30 years. For light vehicles of North America the seventh character
    tells: a digit up to model year 2009, a letter from 2010 on (49 CFR 565.15(d)(1)).
    """
    code = number[YEAR_POSITION - 1]
    if code not in _YEARS:
        return ()
    early = _FIRST_YEAR + _YEARS.index(code)
    late = early + _CYCLE
    return (early, late) if number[6].isdigit() else (late, early)
