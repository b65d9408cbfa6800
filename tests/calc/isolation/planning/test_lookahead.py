"""Pieces of the lookahead that its figures alone would not show."""

from baycalc.isolation.planning.lookahead import ORDERS_TRIED, _other_orders


def test_other_orders_leave_no_repair_out():
    for many in range(2, 7):
        order = list(range(many))
        found = _other_orders(order)
        assert found[0] == order
        assert all(sorted(each) == order for each in found)
        assert [each[0] for each in found[1:]] == [1, *range(2, min(many, ORDERS_TRIED))]
