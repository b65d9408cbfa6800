"""YAML with lines, held against PyYAML's own reading."""

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from baybook.book.sources.read import dotted, read_yaml

KEYS = st.text("abcdefghijklmnop-", min_size=1, max_size=8).filter(lambda key: key.strip("-"))
VALUES = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats(allow_nan=False)
    | st.text(st.characters(codec="utf-8", exclude_categories=["Cs", "Cc"]))
    | st.dates(),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(KEYS, inner, max_size=4),
    max_leaves=12,
)


@given(data=st.dictionaries(KEYS, VALUES), flow=st.booleans())
def test_data_is_what_pyyaml_reads(data: dict[str, object], flow: bool) -> None:
    text = yaml.safe_dump(data, default_flow_style=flow, allow_unicode=True)
    found, _, problems = read_yaml(text, "a.yml")
    assert problems == []
    assert found == yaml.safe_load(text)


@given(st.dictionaries(KEYS, st.dictionaries(KEYS, st.integers(), min_size=1), min_size=1))
def test_a_field_stands_on_the_line_of_its_name(data: dict[str, dict[str, int]]) -> None:
    text = yaml.safe_dump(data, default_flow_style=False, sort_keys=False)
    _, lines, _ = read_yaml(text, "a.yml", first=7)
    rows = text.split("\n")
    for group, fields in data.items():
        assert rows[lines.line((group,)) - 7].startswith(yaml.safe_dump({group: 0})[:-3])
        for name, value in fields.items():
            assert rows[lines.line((group, name)) - 7].strip() == f"{quoted(name)}: {value}"
        assert lines.line((group, "not there")) == lines.line((group,))


def quoted(name: str) -> str:
    return yaml.safe_dump({name: 0}).split(":")[0]


def test_names_are_texts_whatever_yaml_makes_of_them() -> None:
    found, _, problems = read_yaml("yes: 1\n12: 2\n~: 3\n2026-01-01: 4\n", "a.yml")
    assert (found, problems) == ({"yes": 1, "12": 2, "~": 3, "2026-01-01": 4}, [])


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (
            "a: [1",
            "a.yml:1: expected YAML, got a fault: expected ',' or ']', but got '<stream end>'",
        ),
        (
            "a: &b [*b]",
            "a.yml:1: expected a few levels of fields, got too many or an alias of itself",
        ),
        ("a: *b", "a.yml:1: expected YAML, got a fault: found undefined alias 'b'"),
        (
            "[" * 3000,
            "a.yml:1: expected a few levels of fields, got too many or an alias of itself",
        ),
        ("x: 1\na: \x00", "a.yml:2: expected text, got the character U+0000"),
        ("x: 1\n? [a]\n: 1", "a.yml:2: expected a name before the colon, got brackets"),
        (
            "a: 1\n---\nb: 2",
            "a.yml:2: expected YAML, got a fault: "
            "expected a single document in the stream but found another document",
        ),
        ("a:\n  b: !!int x", "a.yml:2: a.b: expected a plain value, got x"),
        ("a: 1\na: 2", "a.yml:2: a: expected each name once, got a again (first on line 1)"),
    ],
)
def test_faults_are_told_with_their_line(text: str, said: str) -> None:
    _, _, problems = read_yaml(text, "a.yml")
    assert [str(problem).split("\n")[0] for problem in problems] == [said]


def test_aliases_cannot_fill_the_memory() -> None:
    rows = ["a0: &a0 [x, x, x, x, x, x, x, x, x, x]"]
    rows += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 10)}]" for n in range(1, 9)]
    _, _, problems = read_yaml("\n".join(rows), "a.yml")
    assert [problem.text for problem in problems] == ["expected fewer than 100000 values, got more"]


def test_a_path_is_written_with_dots_and_brackets() -> None:
    assert dotted(("tests", "valve-hold", "after", 0)) == "tests.valve-hold.after[0]"
    assert dotted(()) == ""


def test_brackets_that_are_closed_again_are_not_deep() -> None:
    text = "".join(f"x{number}: [{{a: [{number}]}}, {{}}]\n" for number in range(300))
    data, _, problems = read_yaml(text, "a.yml")
    assert problems == []
    assert data["x299"] == [{"a": [299]}, {}]
