"""The calculators of the tests have the unit table that the generator writes."""

import pytest
from hypothesis import settings

from baybook.book.pint_quantities import unit_table_data
from baycalc import api

# A shared machine stalls now and then: how long one example takes is measured by the bench.
settings.register_profile("baybook", deadline=None)
settings.load_profile("baybook")


@pytest.fixture(scope="session", autouse=True)
def _installed() -> None:
    api.install(unit_table_data())
