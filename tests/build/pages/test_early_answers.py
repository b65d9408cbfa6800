"""The first answers in a page: packed, and whole again."""

from tests.build.pages.whole import whole
from tests.calc.isolation.networks import pump_story

from baybook.pages.early_answers import early_answers
from baycalc.isolation import first_answers


def test_all_but_what_nobody_reads_is_there_again() -> None:
    first = first_answers(pump_story())
    early = early_answers(first)
    for code, answer in whole(early["data"], early["values"]).items():
        kept = first[code]
        changed = {name for name in kept if answer[name] != kept[name]}
        assert changed <= {"parts", "suspects"}
        for one, other in zip(answer["suspects"], kept["suspects"], strict=True):
            assert abs(one["share"] - other["share"]) <= 5e-5
            assert one | {"share": 0} == other | {"share": 0}
        for part in kept["parts"]:
            said = {name: value for name, value in part.items() if value and name != "share"}
            assert (said in answer["parts"]) == (len(said) > 1)
    assert list(early["data"]) == list(first)
