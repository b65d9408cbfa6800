"""The story of valve, pump and relay, and five faults with their tests, ready for the tests."""

import pytest
from tests.calc.isolation.networks import Json, check, fault, network, pump_story

from baycalc.isolation.model.bayes_net import Model
from baycalc.isolation.model.read_network import from_data


@pytest.fixture
def pump_data() -> Json:
    return pump_story()


@pytest.fixture
def pump(pump_data: Json) -> Model:
    return Model(from_data(pump_data))


@pytest.fixture(scope="session")
def five() -> Model:
    """Seen and separated; two that look alike; hardly seen; not seen at all."""
    return Model(
        from_data(
            network(
                [
                    fault("clear", 4, 20, 50),
                    fault("twin", 3, 20, 50),
                    fault("double", 1, 20, 50),
                    fault("faint", 1, 20, 50),
                    fault("hidden", 1, 20, 50),
                ],
                [
                    check("one", 2, {"clear": 0.95}, false_alarm=0.01),
                    check("two", 3, {"twin": 0.9, "double": 0.9}, false_alarm=0.01),
                    check("three", 4, {"faint": 0.4}, false_alarm=0.01),
                    check("dear", 500, {"clear": 0.95}, false_alarm=0.01),
                ],
                recheck_minutes=5,
            )
        )
    )
