"""The network of a procedure: faults, the codes they set, the tests that show them."""

from collections.abc import Callable
from dataclasses import asdict, dataclass, field

from baycalc.isolation.json_reader import Fields, Json
from baycalc.isolation.model.references import reference_problems

ELSEWHERE = "elsewhere"
"""Id of the fault "none of these": a cause outside this procedure."""

ELSEWHERE_SHARE = 0.05
"""Weight of "none of these" where the author gives none, as a share of all the others."""

ELSEWHERE_MINUTES = 60.0
"""Minutes that looking outside the procedure costs where the author gives none."""

BASE = 0.1
"""Chance that a car has faults of this system at all (see `Network.base`)."""


@dataclass(frozen=True)
class Link:
    """How one fault causes another: at once, or later, after it has been repaired."""

    chance: float
    later: float = 0.0


@dataclass(frozen=True)
class Repair:
    """What the repair of a fault takes."""

    minutes: float
    price: float


@dataclass(frozen=True)
class Fault:
    """One way in which one part fails.

    Parameters
    ----------
    id, says, part : str
        Id, the failure in words ("ventilation valve stuck open"), and the part [-].
    often : float
        Weight against the other faults, before anything is known [-].
    repair : Repair
        Minutes and price of the repair [min, money].
    sets : dict
        Chance to set each code [-].
    leads_to : dict
        Knock-on faults [-].
    recheck : float, optional
        Chance that the proof after a repair shows this fault where it stayed behind after
        another one was repaired; without it the chance that it sets any code of the
        procedure, or 0.95 in a procedure without codes [-].
    """

    id: str
    says: str
    part: str
    often: float
    repair: Repair
    sets: dict[str, float] = field(default_factory=dict)
    leads_to: dict[str, Link] = field(default_factory=dict)
    recheck: float | None = None


@dataclass(frozen=True)
class Observation:
    """What a test shows: each fault with its chance, and the chance of a false alarm."""

    id: str
    shows: dict[str, float] = field(default_factory=dict)
    false_alarm: float = 0.0
    says: str | None = None


@dataclass(frozen=True)
class Test:
    """One thing the technician does, with its minutes and its set-up."""

    id: str
    title: str
    minutes: float
    setup: str | None = None
    after: tuple[str, ...] = ()
    observations: tuple[Observation, ...] = ()


@dataclass(frozen=True)
class Elsewhere:
    """The fault "none of these": its weight, and what looking elsewhere costs."""

    often: float
    minutes: float = ELSEWHERE_MINUTES
    price: float = 0.0


@dataclass(frozen=True)
class Network:
    """Faults, codes and tests of one procedure.

    Parameters
    ----------
    faults : tuple of Fault
        The faults [-].
    tests : tuple of Test
        The tests, in the order of the page [-].
    elsewhere : Elsewhere
        The fault "none of these" [-].
    codes : dict
        Chance that each code is stored with none of the faults present [-].
    setups : dict
        Minutes to change into each set-up [min].
    rate : float
        What a minute costs [money/min].
    recheck_minutes : float
        Minutes of the proof after a repair [min].
    base : float
        Expected number of faults with a cause of their own, before the car is known to have
        any [-].
    currency : str, optional
        The sign written before amounts of money [-].

    Notes
    -----
    A fault's own chance is its share of all weights times `base`. A car that comes in has at
    least one fault, so `base` does not move the shares of single faults; it decides how often
    a second one is there by coincidence: with 0.1 in about one car of twenty.
    """

    faults: tuple[Fault, ...]
    tests: tuple[Test, ...]
    elsewhere: Elsewhere
    codes: dict[str, float] = field(default_factory=dict)
    setups: dict[str, float] = field(default_factory=dict)
    rate: float = 1.0
    recheck_minutes: float = 0.0
    base: float = BASE
    currency: str | None = None

    def to_data(self) -> Json:
        """Give the network as plain JSON, the form that `from_data` takes."""
        data = asdict(self)
        data["codes"] = {code: {"false_alarm": chance} for code, chance in self.codes.items()}
        data["setups"] = {name: {"minutes": cost} for name, cost in self.setups.items()}
        data["faults"] = list(data["faults"])
        data["tests"] = [
            {**test, "after": list(test["after"]), "observations": list(test["observations"])}
            for test in data["tests"]
        ]
        return data


def from_data(data: Json) -> Network:
    """Read a network from plain JSON.

    Parameters
    ----------
    data : dict
        The network as the generator writes it [-].

    Returns
    -------
    network : Network
        The same, typed and checked [-].

    Raises
    ------
    ValueError
        With one line for every problem in the data.
    """
    problems: list[str] = []
    top = Fields(data, "", problems)
    faults = tuple(_fault(item) for item in top.each("faults"))
    network = Network(
        faults=faults,
        tests=tuple(_test(item) for item in top.each("tests")),
        elsewhere=_elsewhere(top, faults),
        codes=_named(top, "codes", lambda item: item.chance("false_alarm", 0.0)),
        setups=_named(top, "setups", lambda item: item.number("minutes")),
        rate=top.number("rate", 1.0),
        recheck_minutes=top.number("recheck_minutes", 0.0),
        base=top.number("base", BASE, above=True),
        currency=top.optional_text("currency"),
    )
    top.finish()
    problems.extend(reference_problems(network))
    if problems:
        raise ValueError("\n".join(problems))
    return network


def _named(top: Fields, name: str, read: Callable[[Fields], float]) -> dict[str, float]:
    group = top.inner(name)
    numbers = {}
    for key in group.data:
        item = group.inner(key)
        numbers[key] = read(item)
        item.finish()
    return numbers


def _fault(item: Fields) -> Fault:
    links = item.inner("leads_to")
    repair = item.inner("repair")
    fault = Fault(
        id=item.text("id"),
        says=item.text("says"),
        part=item.text("part"),
        often=item.number("often", above=True),
        repair=Repair(repair.number("minutes"), repair.number("price", 0.0)),
        sets=item.chances("sets"),
        leads_to={name: _link(links.inner(name)) for name in links.data},
        recheck=item.optional_chance("recheck"),
    )
    repair.finish()
    item.finish()
    return fault


def _link(item: Fields) -> Link:
    link = Link(item.chance("chance"), item.chance("later", 0.0))
    item.finish()
    return link


def _test(item: Fields) -> Test:
    test = Test(
        id=item.text("id"),
        title=item.text("title"),
        minutes=item.number("minutes"),
        setup=item.optional_text("setup"),
        after=item.names("after"),
        observations=tuple(_observation(entry) for entry in item.each("observations")),
    )
    item.finish()
    return test


def _observation(item: Fields) -> Observation:
    observation = Observation(
        item.text("id"),
        item.chances("shows"),
        item.chance("false_alarm", 0.0),
        item.optional_text("says"),
    )
    item.finish()
    return observation


def _elsewhere(top: Fields, faults: tuple[Fault, ...]) -> Elsewhere:
    weight = top.data.get("elsewhere")
    if weight is None:
        top.seen.add("elsewhere")
        return Elsewhere(ELSEWHERE_SHARE * sum(fault.often for fault in faults))
    if not isinstance(weight, dict):
        return Elsewhere(top.number("elsewhere"))
    item = top.inner("elsewhere")
    elsewhere = Elsewhere(
        item.number("often"),
        item.number("minutes", ELSEWHERE_MINUTES),
        item.number("price", 0.0),
    )
    item.finish()
    return elsewhere
