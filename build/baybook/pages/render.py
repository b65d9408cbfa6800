"""Templates, and how quantities and texts are written on pages."""

import functools
import json
from datetime import date
from pathlib import Path
from typing import Any

import jinja2
from markupsafe import Markup

from baybook.book.figure_texts import Pair, pair
from baycalc import text

_TEMPLATES = Path(__file__).parent.parent / "templates"


def quantity_html(both: Pair) -> Markup:
    """Write a quantity that follows the reader's unit system."""
    if both.us == both.metric:
        return Markup('<span class="quantity">{}</span>').format(both.us)
    return Markup('<span class="quantity" data-us="{}" data-metric="{}">{}</span>').format(
        both.us, both.metric, str(both)
    )


def pair_html(text: str) -> Markup:
    """Write a quantity as it was typed in both unit systems."""
    return quantity_html(pair(text))


def day_text(day: date) -> str:
    """Write a day as ``25 November 2026``."""
    return f"{day.day} {day:%B %Y}"


@functools.cache
def environment() -> jinja2.Environment:
    """Return the environment of the generator's own templates."""
    env = jinja2.Environment(
        loader=jinja2.FileSystemLoader(_TEMPLATES),
        autoescape=lambda name: name is not None and name.endswith(".html.j2"),
        undefined=jinja2.StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
        comment_start_string="{##",
        comment_end_string="##}",
    )
    env.filters["quantity"] = lambda text, kind="": quantity_html(pair(text, kind))
    env.filters["minutes"] = text.duration
    env.filters["share"] = functools.partial(text.percent, digits=1)
    env.filters["day"] = day_text
    env.globals["quantity_html"] = quantity_html
    return env


def heading(level: int, name: str, title: str) -> Markup:
    """Write a heading with its place in the address."""
    return html("section_heading.html.j2", level=level, name=name, title=title)


def taken(method: str, data: dict[str, Any]) -> str:
    """Write data as a script that hands them to the page; a page from a folder can read it too."""
    text = json.dumps(data, ensure_ascii=False, separators=(",", ":"))
    return f"baybook.take.{method}({text});\n"


def html(template: str, **values: Any) -> Markup:
    """Render one of the generator's HTML templates."""
    return Markup(environment().get_template(template).render(**values).strip())
