"""The scripts of the pages show; what is decided, counted or worded comes from the engine."""

import re
from pathlib import Path

import pytest

SCRIPTS = "build/baybook/assets/scripts"
REMARK = re.compile(r"/\*.*?\*/|(?<!:)//[^\n]*", re.DOTALL)
MEASURES = {"photos.js", "timer.js"}
"""The size of a picture and the seconds of a watch are measured in the page."""

ROUNDED = "a number is rounded"
MADE_HERE = {
    ROUNDED: re.compile(r"\btoFixed\b|\btoPrecision\b|\bMath\.(?:round|floor|ceil)\b"),
    "a share is written": re.compile(r"[\d}]\s?%(?!`\))"),
    "minutes are written": re.compile(r"[\d}]\s(?:min|h)\b"),
    "a chance is weighed": re.compile(
        r"\b(?:share|chance|cost|minutes|money|likelihood)\s*[<>]=?\s*(?:0?\.\d|[2-9])"
        r"|[<>]=?\s*0\.\d"
    ),
}


def decisions(root: Path) -> list[str]:
    """Return the lines of the scripts that decide, count or word what the engine should."""
    found = []
    for path in sorted((root / SCRIPTS).glob("*.js")):
        text = REMARK.sub(lambda remark: "\n" * remark[0].count("\n"), path.read_text("utf-8"))
        for number, line in enumerate(text.splitlines(), 1):
            found += [
                f"{path.name}:{number}: {what}: {line.strip()[:80]}"
                for what, pattern in MADE_HERE.items()
                if pattern.search(line) and (what != ROUNDED or path.name not in MEASURES)
            ]
    return found


def test_no_decision_in_javascript(root):
    assert decisions(root) == []


@pytest.mark.parametrize(
    "line",
    [
        'if (share >= 0.995) return "sure";',
        "return `${Math.round(share * 100)} %`;",
        "text = `${hours} h ${rest} min`;",
        "if (suspect.share > 0.5) show(suspect);",
        "value.toFixed(2)",
    ],
)
def test_a_decision_is_found(plant, line):
    (found,) = {text.split(": ")[0] for text in decisions(plant(f"{SCRIPTS}/a.js", f"\n{line}\n"))}
    assert found == "a.js:2"


@pytest.mark.parametrize(
    "line",
    [
        "// at least 50 % of them",
        "/* share > 0.5 */",
        "bar.style.setProperty('--share', suspect.bar);",
        "if (list.length > 1) open();",
        "const most = Math.max(0, ...scores);",
    ],
)
def test_what_is_no_decision_is_let_alone(plant, line):
    assert decisions(plant(f"{SCRIPTS}/a.js", line)) == []


WRITERS = {
    "calc/baycalc/text.py": "the one module",
    "calc/baycalc/quantities/units.py": "quantities with their units",
    "calc/baycalc/forms/present.py": "how likely a reading lies inside its limit",
    "build/baybook/verbs/simulate.py": "the terminal's progress",
}
OWN_WRITING = re.compile(
    r":\.\d%\}|(?<!\{)\}(?:\\u00a0|\\u202f|&nbsp;| )(?:%(?!\})|min\b|h\b)"
    r"|\|\s*round[^}]*\}\}\s?(?:%|min|h)\b"
)


def own_writings(root: Path) -> list[str]:
    """Return the lines of Python and templates that write per cent or time in their own way."""
    files = [*root.glob("calc/baycalc/**/*.py"), *root.glob("build/baybook/**/*.py")]
    files += root.glob("build/baybook/templates/*.j2")
    return [
        f"{path.relative_to(root).as_posix()}:{number}: {line.strip()[:80]}"
        for path in sorted(files)
        if path.relative_to(root).as_posix() not in WRITERS
        for number, line in enumerate(path.read_text("utf-8").splitlines(), 1)
        if OWN_WRITING.search(line) and "{%" not in line
    ]


def test_per_cent_and_time_are_written_by_one_module(root):
    assert own_writings(root) == []


@pytest.mark.parametrize(
    "line", ['f"{share:.0%}"', 'f"{share} %"', 'f"{minutes}\\u00a0min"', 'f"{hours} h"']
)
def test_an_own_writing_is_found(plant, line):
    assert own_writings(plant("calc/baycalc/a.py", line)) == [f"calc/baycalc/a.py:1: {line}"]
