"""The rivals of the plan: by guess and down the page, as far as each goes."""

from tests.calc.isolation.jobs import case_of
from tests.calc.isolation.networks import result

from baycalc.isolation.planning.policies import by_guess, by_page

CODE = {"code": "P0410", "state": "stored"}
NOT_CURED = {"recheck": "not cured"}


def did(action):
    return action.kind, action.id


def test_down_the_page_begins_with_its_first_test(pump):
    assert did(by_page(case_of(pump, [CODE]))) == ("test", "safe")
    assert did(by_page(case_of(pump, [CODE, result("safe", False)]))) == ("test", "fuse-look")


def test_by_guess_begins_with_a_part(pump):
    assert by_guess(case_of(pump, [CODE])).kind == "repair"


def test_both_prove_a_repair_and_go_on_where_it_was_in_vain(pump):
    fitted = [CODE, {"repair": "fuse"}]
    for policy in (by_guess, by_page):
        assert policy(case_of(pump, fitted)).kind == "recheck"
        assert policy(case_of(pump, [*fitted, {"recheck": "cured"}])).kind == "close"
    assert by_guess(case_of(pump, [*fitted, NOT_CURED])).kind == "repair"
    assert did(by_page(case_of(pump, [*fitted, NOT_CURED]))) == ("test", "safe")
