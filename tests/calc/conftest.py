"""The calculators of the tests have the unit table that the generator writes."""

import pytest

from baybook.book.quantities import unit_table_data
from baycalc import door


@pytest.fixture(scope="session", autouse=True)
def _installed() -> None:
    door.install(unit_table_data())
