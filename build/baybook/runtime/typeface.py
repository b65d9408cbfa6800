"""The typeface of the book as one style sheet that holds its font files as data.

A page opened from a folder may be refused a font file that lies above it (Firefox does), so none
is named by an address.
"""

import json
from pathlib import Path

from baybook.runtime.errors import RuntimeBuildError
from baybook.runtime.payload import text_of

CARRIED = "Atkinson Hyperlegible Next"
NONE = "none"

FAMILY = "Bay Text"
"""Name under which the style sheets ask for the typeface, whichever it is."""

PACKAGE = "@fontsource-variable/atkinson-hyperlegible-next"
STYLE_SHEET = "typeface.css"
LICENCE = f"{STYLE_SHEET}.LICENSE.txt"

_FILES = (("latin-ext", "normal"), ("latin", "normal"), ("latin", "italic"))
"""Range of letters and style of each font file that is carried."""


def carried_typeface(package: Path) -> str:
    """Write the style sheet of the typeface that comes with the book.

    Parameters
    ----------
    package : Path
        Folder of its npm package.
    """
    ranges = json.loads((package / "unicode.json").read_text(encoding="utf-8"))
    prefix = package.name
    head = (
        "/* Atkinson Hyperlegible Next, (c) 2020-2024 The Atkinson Hyperlegible Next Project "
        f"Authors.\n   SIL Open Font License 1.1: runtime/{LICENCE}. */\n"
    )
    return head + "".join(
        font_face(
            package / "files" / f"{prefix}-{letters}-wght-{style}.woff2",
            f"font-style: {style}; unicode-range: {ranges[letters]};",
        )
        for letters, style in _FILES
    )


def chosen_typeface(choice: str, folder: Path, carried: str) -> str:
    """Return the style sheet of the typeface that the author chose.

    Parameters
    ----------
    choice : str
        The name of the carried one, ``none`` for the reader's own, or a WOFF2 file.
    folder : Path
        Folder from which the file is named.
    carried : str
        Style sheet of the carried one.

    Returns
    -------
    str
        The style sheet; empty where there is none.

    Raises
    ------
    RuntimeBuildError
        When there is no such file, or it is no WOFF2.
    """
    if choice == CARRIED:
        return carried
    if choice == NONE:
        return ""
    file = folder / choice
    if not file.is_file() or file.read_bytes()[:4] != b"wOF2":
        raise RuntimeBuildError(
            f"typeface: expected '{CARRIED}', '{NONE}' or a WOFF2 file, got '{choice}'"
        )
    return font_face(file)


def font_face(file: Path, more: str = "") -> str:
    """Write one font file as a rule of a style sheet, with the file in it.

    Parameters
    ----------
    file : Path
        A font file in the form WOFF2, with all its weights in one.
    more : str
        Other descriptors of the rule.
    """
    data = text_of(file.read_bytes())
    return (
        f'@font-face {{ font-family: "{FAMILY}"; font-weight: 200 800; font-display: swap; {more} '
        f"src: url(data:font/woff2;base64,{data}); }}\n"
    )
