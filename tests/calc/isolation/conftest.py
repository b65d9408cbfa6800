"""The story of valve, pump and relay, ready for the tests."""

import pytest
from tests.calc.isolation.networks import Json, pump_story

from baycalc.isolation.model import Model
from baycalc.isolation.network import from_data


@pytest.fixture
def pump_data() -> Json:
    return pump_story()


@pytest.fixture
def pump(pump_data: Json) -> Model:
    return Model(from_data(pump_data))
