"""The table of contents of a page that is written as HTML."""

import re
from typing import Any

from markupsafe import Markup

_HEADING = re.compile(r'<h([23]) id="([^"]+)">(.*?)</h\1>', re.DOTALL)
_PERMALINK = re.compile(r'<a class="headerlink".*?</a>', re.DOTALL)


def contents(html: str) -> list[dict[str, Any]]:
    """Return the headings of a page as MkDocs has them, level 3 below level 2."""
    found: list[dict[str, Any]] = []
    for level, name, title in _HEADING.findall(str(html)):
        entry = {
            "level": int(level),
            "id": name,
            "name": str(Markup(_PERMALINK.sub("", str(title))).striptags()),
            "children": [],
        }
        below = level == "3" and found
        (found[-1]["children"] if below else found).append(entry)
    return found
