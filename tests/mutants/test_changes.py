"""The changes of the trial of the tests."""

import pytest
from tests.mutants.changes import changes

SOURCE = b'''"""A module."""


@decorated(True)
def often(value: Annotated[float, 3]) -> int:
    """Text."""
    log(value)
    if (value) < 2.0 and not value:
        raise ValueError("no" + "where")
    return [x ** 2 for x in values if x is not None][1]


if __name__ == "__main__":
    often(3)
'''


def test_every_kind_of_change_is_found_once_and_nothing_else() -> None:
    found = {(change.kind, change.told(SOURCE)) for change in changes("a.py", SOURCE)}
    line = "a.py: if (value) < 2.0 and not value: ->"
    assert found == {
        ("dropped line", "a.py: log(value) -> pass"),
        ("comparison", f"{line} if (not ((value) < 2.0 and not value)):"),
        ("comparison", f"{line} if (value) <= 2.0 and not value:"),
        ("operator", f"{line} if (value) < 2.0 or not value:"),
        ("constant", f"{line} if (value) < 2.02 and not value:"),
        ("dropped line", 'a.py: raise ValueError("no" + "where") -> pass'),
        ("operator", f"{RETURN} return [x * 2 for x in values if x is not None][1]"),
        ("constant", f"{RETURN} return [x ** 3 for x in values if x is not None][1]"),
        ("comparison", f"{RETURN} return [x ** 2 for x in values if x is None][1]"),
        ("constant", f"{RETURN} return [x ** 2 for x in values if x is not None][2]"),
    }


RETURN = "a.py: return [x ** 2 for x in values if x is not None][1] ->"


@pytest.mark.parametrize("change", list(changes("a.py", SOURCE)), ids=str)
def test_what_is_changed_can_be_read_by_python(change) -> None:
    compile(change.applied(SOURCE), "a.py", "exec")
