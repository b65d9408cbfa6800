"""The section of a test: the answers that its questions offer."""

from baybook.book.source_tests import Band, Observation
from baybook.pages.test_section import _choices


def test_outcomes_by_name_begin_with_the_normal_one() -> None:
    bands = {"low": Band(says="below 4 V", shows={}), "high": Band(says="above 6 V", shows={})}
    found = _choices(Observation(asks="What does it read?", bands=bands))
    assert found["good"] == "normal"
    assert list(found["answers"].values()) == ["Normal", "Below 4 V", "Above 6 V"]
    named = _choices(Observation(asks="What does it read?", normal="about 5 V", bands=bands))
    assert named["answers"]["normal"] == "About 5 V"


def test_a_question_of_yes_and_no_says_which_is_good() -> None:
    assert _choices(Observation(asks="Does it hum?", good=True, shows={}))["good"] == "yes"
    assert _choices(Observation(asks="Does it leak?", good=False, shows={}))["good"] == "no"
