"""Where the values of a network stand that jobs can tell of."""

from typing import Any

from baybook.learning.author_values import places


def test_what_a_cause_outside_brings_is_a_value_too(network: dict[str, Any]) -> None:
    found = {place.path: place.value for place in places(network)}
    assert found[("outside",)] == 0.08
    assert found[("outside-with", "P0411")] == 0.05
    assert found[("faults", "hose", "sets", "P0410")] == 0.8
