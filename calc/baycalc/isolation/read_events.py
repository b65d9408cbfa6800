"""Reads the events of a job from plain JSON; what a procedure does not know is told, not lost."""

from collections.abc import Collection, Mapping

from baycalc.isolation.inference.evidence import ABNORMAL, NORMAL, PENDING, Event
from baycalc.isolation.json_reader import Json, is_number
from baycalc.isolation.model.bayes_net import LOOK, RECHECK, Key, Likelihood, Model

_CODE_STATES = {"stored": ABNORMAL, "permanent": ABNORMAL, "pending": PENDING, "absent": NORMAL}
_PROOFS = {"cured": NORMAL, "not cured": ABNORMAL}
_LOOKS = {"found": ABNORMAL, "not found": NORMAL}
_DONE = ("done", "skipped")
_STATES = ("cold", "warm", "raised")


class Unknown(ValueError):
    """An event that this procedure does not know."""


def read_events(model: Model, history: list[Json]) -> tuple[list[Event], list[tuple[int, str]]]:
    """Read the events of a job.

    Parameters
    ----------
    model : Model
        The model of the procedure.
    history : list of dict
        The events in their order [-].

    Returns
    -------
    events : list of Event
        Those that can be read.
    unknown : list of tuple
        Place in the history of each other one, and why it was left out.
    """
    events: list[Event] = []
    unknown: list[tuple[int, str]] = []
    for place, item in enumerate(history):
        try:
            events += _events(model, place, item)
        except Unknown as error:
            unknown.append((place, str(error)))
    return events, unknown


def _events(model: Model, place: int, item: object) -> list[Event]:
    if not isinstance(item, dict):
        raise Unknown(f"expected an object, got {item!r}")
    network = model.network
    if "code" in item:
        key = Key("code", _known(item["code"], network.codes, "a code of this procedure"))
        return [Event(key, _CODE_STATES[_word(item, "state", _CODE_STATES)], place=place)]
    if "codes" in item:
        _known(item["codes"], ("all",), "'all'")
        return [Event(Key("codes"), place=place)]
    if "complaint" in item:
        name = _known(item["complaint"], network.complaints, "a complaint of this procedure")
        return [Event(Key("complaint", name), ABNORMAL, place=place)]
    if "state" in item:
        return [Event(Key("state", _known(item["state"], _STATES, "cold, warm or raised")))]
    if "opening" in item:
        steps = [step.id for step in network.opening]
        key = Key("opening", _known(item["opening"], steps, "an opening step"))
        return [Event(key, done=_word(item, "result", _DONE) == "done", place=place)]
    if "repair" in item:
        return [Event(Key("repair", _known(item["repair"], model.number, "a fault")), place=place)]
    if "leave" in item:
        return [Event(Key("leave", _known(item["leave"], model.number, "a fault")), place=place)]
    if "outside" in item:
        return _look(model, place, _word(item, "outside", _LOOKS))
    if "recheck" in item:
        return [Event(RECHECK, _PROOFS[_word(item, "recheck", _PROOFS)], place=place)]
    if "test" in item:
        return _test(model, place, item)
    raise Unknown(f"expected a code, complaint, test, repair or recheck, got {item!r}")


def _look(model: Model, place: int, result: str) -> list[Event]:
    """Read a look outside; a cause that it found is repaired there."""
    if "outside" not in model.number:
        raise Unknown("this procedure knows no cause outside")
    found = Event(LOOK, _LOOKS[result], place=place)
    return [found, Event(Key("repair", "outside"), place=place)] if result == "found" else [found]


def _test(model: Model, place: int, item: Json) -> list[Event]:
    test = model.tests[_known(item["test"], model.tests, "a test of this procedure")]
    result = item.get("result")
    names = [seen.id for seen in test.observations]
    if "observation" not in item and (result == "skipped" or not names):
        keys = [Key("test", test.id, name) for name in names] or [Key("test", test.id)]
        done = _word(item, "result", _DONE) == "done"
        return [Event(key, done=done, place=place) for key in keys]
    name = _known(item.get("observation"), names, f"an observation of test {test.id}")
    key = Key("test", test.id, name)
    bands = [band.id for band in model.observation(key).bands]
    if isinstance(result, dict):
        return [Event(key, _likelihood(result.get("likelihood"), bands), place=place)]
    words = ("normal", *bands, "skipped")
    word = _known(result, words, f"one of {', '.join(words)}")
    if word == "skipped":
        return [Event(key, (1.0,) * (1 + len(bands)), done=False, place=place)]
    return [Event(key, tuple(float(word == one) for one in words[:-1]), place=place)]


def _likelihood(given: object, bands: list[str]) -> Likelihood:
    """Read the likelihood under each outcome: by name, or (abnormal, normal) where two are."""
    if isinstance(given, list) and len(given) == 2 and len(bands) == 1:
        given = {bands[0]: given[0], "normal": given[1]}
    names = ["normal", *bands]
    if isinstance(given, dict) and all(is_number(given.get(name)) for name in names):
        found = tuple(float(given[name]) for name in names)
        if min(found) >= 0.0 and max(found) > 0.0:
            return found
    raise Unknown(f"likelihood: expected a number for {', '.join(names)}, got {given!r}")


def _word(item: Json, name: str, words: Collection[str] | Mapping[str, object]) -> str:
    return _known(item.get(name), words, " or ".join(words))


def _known(name: object, known: Collection[str] | Mapping[str, object], expected: str) -> str:
    if isinstance(name, str) and name in known:
        return name
    raise Unknown(f"expected {expected}, got {name!r}")
