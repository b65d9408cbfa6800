"""A sealed token: an exercise in a link, which a casual eye does not read.

Who knows this file can open it; it hides a fault from a glance, and proves nothing.
"""

import base64
import binascii
import hashlib
import json

from baycalc.exercise.setting import Exercise, NoExercise, exercise_data, read_exercise

_MARK = b"baybook exercise 1"
CHECK = 4
"""Bytes by which a damaged token is known [-]."""

LONGEST = 4000
"""Characters of the longest token that is read [-]."""

_DAMAGED = "This link to an exercise is damaged: ask for it again, and copy it whole."


def seal(exercise: Exercise) -> str:
    """Write an exercise as a token of letters, figures, - and _."""
    text = json.dumps(exercise_data(exercise), separators=(",", ":"), sort_keys=True).encode()
    check = hashlib.sha256(_MARK + text).digest()[:CHECK]
    return base64.urlsafe_b64encode(check + _mixed(text, check)).decode().rstrip("=")


def unseal(token: str) -> Exercise:
    """Read a token.

    Raises
    ------
    NoExercise
        Where it is damaged.
    """
    if len(token) > LONGEST or not token.isascii():
        raise NoExercise(_DAMAGED)
    try:
        raw = base64.b64decode(token + "=" * (-len(token) % 4), altchars=b"-_", validate=True)
    except (binascii.Error, ValueError):
        raise NoExercise(_DAMAGED) from None
    check, text = raw[:CHECK], _mixed(raw[CHECK:], raw[:CHECK])
    if hashlib.sha256(_MARK + text).digest()[:CHECK] != check:
        raise NoExercise(_DAMAGED)
    return read_exercise(json.loads(text))


def _mixed(text: bytes, check: bytes) -> bytes:
    """Mix bytes with a stream that the check begins; the same again brings them back."""
    blocks = range(len(text) // 32 + 1)
    stream = b"".join(
        hashlib.sha256(_MARK + check + bytes(divmod(place, 256))).digest() for place in blocks
    )
    return bytes(one ^ other for one, other in zip(text, stream, strict=False))
