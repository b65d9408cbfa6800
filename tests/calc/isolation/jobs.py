"""Jobs of the tests: a history as the page writes it, taken to what the engine makes of it."""

from tests.calc.isolation.networks import Json

from baycalc.isolation.inference.evidence import Event
from baycalc.isolation.inference.posterior import Posterior, Suspects, posterior, suspects_of
from baycalc.isolation.model.bayes_net import Model
from baycalc.isolation.planning.case import Case, open_case
from baycalc.isolation.planning.decide import Action, Decision, decide
from baycalc.isolation.read_events import read_events


def events(model: Model, history: list[Json]) -> list[Event]:
    """The events of a history; all of it can be read."""
    found, unknown = read_events(model, history)
    assert unknown == []
    return found


def known(model: Model, history: list[Json]) -> Posterior:
    return posterior(model, events(model, history))


def suspects(model: Model, history: list[Json]) -> Suspects:
    return suspects_of(known(model, history))


def case_of(model: Model, history: list[Json]) -> Case:
    return open_case(model, events(model, history))


def decision(model: Model, history: list[Json]) -> Decision:
    return decide(case_of(model, history))


def next_action(model: Model, history: list[Json]) -> Action:
    return decision(model, history).action
