"""A value that comes again stands once, and is there again."""

from hypothesis import given
from hypothesis import strategies as st
from tests.build.pages.whole import whole

from baybook.pages.values_once import with_values_once

PLAIN = st.recursive(
    st.none() | st.booleans() | st.integers() | st.text(max_size=20),
    lambda inner: st.lists(inner) | st.dictionaries(st.text(max_size=3).filter("at".__ne__), inner),
    max_leaves=30,
)


def test_what_comes_again_stands_once() -> None:
    answer = {"why": "Once at the start of a job.", "short": "Once"}
    once = with_values_once({"": answer, "P0410": answer, "P0411": {**answer, "short": "Else"}})
    assert once["values"] == ["Once at the start of a job.", {"why": {"at": 0}, "short": "Once"}]
    assert once["data"][""] == once["data"]["P0410"] == {"at": 1}
    assert once["data"]["P0411"] == {"why": {"at": 0}, "short": "Else"}


@given(st.dictionaries(st.sampled_from("abc"), PLAIN))
def test_all_is_there_again(data: dict[str, object]) -> None:
    once = with_values_once(data)
    assert whole(once["data"], once["values"]) == data
