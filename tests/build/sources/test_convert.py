"""Plain data into records: the same data back, and a record with gaps where fields are wrong."""

import msgspec
import yaml
from hypothesis import given
from hypothesis import strategies as st

from baybook.book.source_model import Fault, Limit, Observation, Repair, Vehicle
from baybook.book.source_types import Needs
from baybook.book.sources.convert import to_record
from baybook.book.sources.read import read_yaml

CHANCES = st.floats(0, 1)
IDS = st.from_regex(r"[a-z][a-z0-9-]*", fullmatch=True)
NAMES = st.lists(IDS).map(tuple)
FAULTS = st.builds(
    Fault,
    part=IDS,
    says=st.text("abc äß°", min_size=1).filter(str.strip),
    often=st.floats(1e-3, 1e3),
    sets=st.dictionaries(st.from_regex(r"[PBCU][0-3][0-9A-F]{3}", fullmatch=True), CHANCES),
    repair=st.builds(Repair, minutes=st.floats(0, 2000), price=st.floats(0, 1e4), section=IDS),
    when=st.builds(Needs, needs=NAMES, without=NAMES, any=NAMES),
)


@given(FAULTS)
def test_a_record_written_as_yaml_is_read_back(fault: Fault) -> None:
    text = yaml.safe_dump(msgspec.to_builtins(fault), allow_unicode=True)
    data, lines, _ = read_yaml(text, "a.yml")
    assert to_record(data, Fault, lines) == (fault, [])


def read(text: str, record: type[msgspec.Struct]) -> tuple[object, list[str], set[object]]:
    data, lines, _ = read_yaml(text, "a.yml")
    value, problems = to_record(data, record, lines)
    return value, [str(problem) for problem in sorted(problems)], set(lines.broken)


def test_wrong_fields_become_place_holders() -> None:
    value, said, broken = read("between: [18, 20 inHg]\nscales-with-air: perhaps", Limit)
    assert value == Limit(between=("", "20 inHg"), scales_with_air=False)
    assert said == [
        "a.yml:1: between[0]: expected a quantity with its unit, such as 20 inHg, got 18",
        "a.yml:2: scales-with-air: expected yes or no, got the text perhaps",
    ]
    assert broken == {("between", 0), ("scales-with-air",)}


def test_a_misspelt_field_stands_for_the_one_that_was_meant() -> None:
    value, said, _ = read("ask: Does it run?\ngood: yes\nshows: {x: 1}", Observation)
    assert value == Observation(asks="Does it run?", good=True, shows={"x": 1.0})
    assert said == ["a.yml:1: ask: expected a known field, got ask\n    hint: did you mean asks?"]


def test_a_missing_group_leaves_no_record() -> None:
    value, said, _ = read("name: Car\nengine: small\nhas: []", Vehicle)
    assert value is None
    assert said == [
        "a.yml:1: figures: expected fields, got nothing\n    hint: add the line figures: ..."
    ]
