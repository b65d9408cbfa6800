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
