"""The history of a job: codes, results, repairs and rechecks, read from plain JSON."""

from dataclasses import dataclass

from baycalc.isolation.json_reader import Json, is_number
from baycalc.isolation.model.bayes_net import RECHECK, Key, Model

RESULTS = {"shown": (1.0, 0.0), "not shown": (0.0, 1.0), "not done": (1.0, 1.0)}
"""Likelihood of each result where the observation is abnormal, and where it is normal."""

NOTHING = (1.0, 1.0)


@dataclass(frozen=True)
class Entry:
    """One event of a job.

    Parameters
    ----------
    place : int
        Its place in the history [-].
    key : tuple of str
        What it speaks of; ("repair", fault) for a repair [-].
    likelihood : tuple of float
        Its likelihood where that is abnormal, and where it is normal [-].
    done : bool
        False where a test was not done [-].
    """

    place: int
    key: Key
    likelihood: tuple[float, float] = NOTHING
    done: bool = True


def read_history(model: Model, history: list[Json]) -> list[Entry]:
    """Read the events of a job.

    Parameters
    ----------
    model : Model
        The model of the procedure [-].
    history : list of dict
        The events in their order [-].

    Returns
    -------
    entries : list of Entry
        The same, checked [-].

    Raises
    ------
    ValueError
        With one line for every event that cannot be read.
    """
    entries: list[Entry] = []
    problems: list[str] = []
    for place, event in enumerate(history):
        try:
            entries.append(_entry(model, place, event))
        except ValueError as error:
            problems.append(f"history[{place}]: {error}")
    if problems:
        raise ValueError("\n".join(problems))
    return entries


def _entry(model: Model, place: int, event: object) -> Entry:
    if not isinstance(event, dict):
        raise ValueError(f"expected an object, got {event!r}")
    if "code" in event:
        code = _known(event["code"], model.network.codes, "a code of the network")
        stored = event.get("stored")
        if not isinstance(stored, bool):
            raise ValueError(f"stored: expected true or false, got {stored!r}")
        return Entry(place, ("code", code), (1.0, 0.0) if stored else (0.0, 1.0))
    if "repair" in event:
        return Entry(place, ("repair", _known(event["repair"], model.number, "a fault")))
    if "recheck" in event:
        words = {"cured": (0.0, 1.0), "not cured": (1.0, 0.0)}
        word = _known(event["recheck"], words, "'cured' or 'not cured'")
        return Entry(place, RECHECK, words[word])
    if "test" in event:
        return _test_entry(model, place, event)
    raise ValueError(f"expected a code, test, repair or recheck, got {event!r}")


def _test_entry(model: Model, place: int, event: Json) -> Entry:
    test = model.tests[_known(event["test"], model.tests, "a test")]
    result = event.get("result")
    if not test.observations:
        word = _known(result, ("done", "not done"), "'done' or 'not done'")
        return Entry(place, ("test", test.id), done=word == "done")
    names = [item.id for item in test.observations]
    name = _known(event.get("observation"), names, f"an observation of test {test.id}")
    key = ("test", test.id, name)
    if isinstance(result, dict):
        return Entry(place, key, _likelihood(result.get("likelihood")))
    word = _known(result, RESULTS, "'shown', 'not shown', 'not done' or a likelihood")
    return Entry(place, key, RESULTS[word], done=word != "not done")


def _likelihood(pair: object) -> tuple[float, float]:
    if isinstance(pair, list) and len(pair) == 2 and all(is_number(item) for item in pair):
        abnormal, normal = (float(item) for item in pair)
        if min(abnormal, normal) >= 0.0 and max(abnormal, normal) > 0.0:
            return abnormal, normal
    raise ValueError(
        f"likelihood: expected two numbers of at least 0 that are not both 0, got {pair!r}"
    )


def _known(name: object, known: object, expected: str) -> str:
    if isinstance(name, str) and name in known:  # type: ignore[operator]
        return name
    raise ValueError(f"expected {expected}, got {name!r}")
