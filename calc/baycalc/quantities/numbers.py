"""Read a number as people type it, and what stands behind it."""

import functools
import math
import re

LONGEST_NUMBER = 40
"""Characters of the longest number that is read [-]."""

_SPACES = dict.fromkeys(map(ord, "\u00a0\u2007\u2008\u2009\u200a\u202f"), " ")
_SIGNS = {ord("\u2212"): "-", ord("\u2013"): "-", ord("\u066b"): ".", ord("\u2044"): "/"}
_FRACTIONS = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
_PARTS = {ord(sign): f" {text}" for sign, text in _FRACTIONS.items()}
_NUMBER = re.compile(r"[+-]?(\d{1,3}( \d{3})+(?!\d)([.,]\d+)?|\d[\d,.]*|[.,]\d+)([eE][+-]?\d+)?")
_FRACTION = re.compile(r"([+-]?)(?:(\d{1,9}) )?(\d{1,9})/(\d{1,9})(?![\d/])")
_GAUGE = re.compile(r"(?i)(?:awg|#) ?(\d{1,3}|\d/0)")
_LARGE_GAUGE = re.compile(r"(?i)(\d)/0 ?(?:awg|ga|gauge)?")
_CLOCK = re.compile(r"(\d{1,4}):([0-5]\d)")
_NOT_FINITE = re.compile(r"(?i)[+-]?(inf|infinity|nan|∞)( .*)?")


class QuantityError(ValueError):
    """A text is not a quantity of the kind that was expected."""


def spaces_alike(text: str) -> str:
    """Return a text with every kind of space as a plain one, none at the ends."""
    return text.translate(_SPACES).strip()


def quote(text: str) -> str:
    """Return a text in quotes for a sentence, cut where it is long."""
    return f"“{text if len(text) <= 24 else text[:20] + '…'}”"


def is_number(text: str) -> bool:
    """Return whether a text is a number alone, without a unit behind it."""
    try:
        return not split(text)[1]
    except QuantityError:
        return False


@functools.lru_cache(maxsize=2048)
def split(text: str) -> tuple[float, str]:
    """Split a text such as ``20 inHg`` into its number and the rest.

    A decimal comma, thousands in groups, thin spaces, a typographic minus, fractions
    (``1 1/8 in``), wire gauges (``AWG 12``, ``2/0``) and minutes with seconds (``1:30``) are
    understood.

    Parameters
    ----------
    text : str
        What was typed

    Returns
    -------
    value : float
        The number [-]
    rest : str
        What stands behind it, mostly a unit

    Raises
    ------
    QuantityError
        When there is no number, one that can be read in two ways, or more than one.
    """
    plain = re.sub(" +", " ", spaces_alike(text.translate(_SIGNS).translate(_PARTS)))
    if not plain:
        raise QuantityError("missing: type a number")
    if _NOT_FINITE.fullmatch(plain):
        raise QuantityError(f"{quote(text)} is not a finite number")
    special = _wire_gauge(plain) or _clock(plain)
    if special:
        return special
    value, rest = _fraction(plain, text) or _plain_number(plain, text)
    if rest.startswith("/"):
        raise QuantityError(f"{quote(text)} is not a number")
    if re.match(r"[+-]? ?[.,]?\d", rest):
        raise QuantityError(f"{quote(text)} holds more than one number: type one")
    return value, rest


def _wire_gauge(plain: str) -> tuple[float, str] | None:
    if match := _LARGE_GAUGE.fullmatch(plain):
        return 1.0 - int(match[1]), "AWG"
    match = _GAUGE.fullmatch(plain)
    if not match:
        return None
    size = match[1]
    if size.endswith("/0"):
        return 1.0 - int(size[0]), "AWG"
    return (1.0 - len(size), "AWG") if set(size) == {"0"} else (float(size), "AWG")


def _clock(plain: str) -> tuple[float, str] | None:
    match = _CLOCK.fullmatch(plain)
    return (60.0 * int(match[1]) + int(match[2]), "s") if match else None


def _fraction(plain: str, text: str) -> tuple[float, str] | None:
    match = _FRACTION.match(plain)
    if not match:
        return None
    sign, whole, above, below = match.groups()
    if int(below) == 0:
        raise QuantityError(f"{quote(text)} is not a number")
    value = int(whole or 0) + int(above) / int(below)
    return (-value if sign == "-" else value), plain[match.end() :].strip()


def _plain_number(plain: str, text: str) -> tuple[float, str]:
    plain = re.sub(r"^([+-]) (?=[\d.,])", r"\1", plain)
    match = _NUMBER.match(plain)
    if not match:
        raise QuantityError(f"{quote(text)} is not a number")
    if len(match[0]) > LONGEST_NUMBER:
        raise QuantityError(
            f"{quote(text)} is too long for a reading: {LONGEST_NUMBER} digits at most"
        )
    value = float(_decimal(match[0].replace(" ", ""), text))
    if not math.isfinite(value):
        raise QuantityError(f"{quote(text)} is too large")
    return value, plain[match.end() :].strip()


def _decimal(number: str, text: str) -> str:
    """Return a number with a decimal point and nothing between its thousands."""
    if re.fullmatch(r"[+-]?[1-9]\d{0,2},\d{3}", number):
        raise QuantityError(
            f"{quote(number)} can be read as {number.replace(',', '.')} or as "
            f"{number.replace(',', '')}: write it without the comma"
        )
    for thousands, point in (",.", ".,"):
        groups = rf"[+-]?\d{{1,3}}(\{thousands}\d{{3}})+"
        grouped = re.fullmatch(rf"{groups}\{point}\d+", number)
        if grouped or (number.count(thousands) > 1 and re.fullmatch(groups, number)):
            return number.replace(thousands, "").replace(point, ".")
    number = number.replace(",", ".")
    if number.count(".") > 1:
        raise QuantityError(f"{quote(text)} is not a number")
    return number
