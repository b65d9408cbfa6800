"""Holds the names in a network against each other: unknown, doubled, waiting in a circle."""

from collections.abc import Iterable, Iterator

from baycalc.isolation.model.fault_model import OUTSIDE, Fault, Network, Test


def reference_problems(network: Network) -> list[str]:
    """List every name that does not lead anywhere.

    Parameters
    ----------
    network : Network
        The network [-].

    Returns
    -------
    problems : list of str
        One sentence each [-].
    """
    problems: list[str] = []
    if not network.faults:
        problems.append("faults: expected at least one fault, got none")
    problems += _doubled("faults", [fault.id for fault in network.faults])
    problems += _doubled("tests", [test.id for test in network.tests])
    if network.base >= 1.0:
        problems.append(f"base: expected a number below 1, got {network.base:g}")
    for fault in network.faults:
        problems += _fault_problems(network, fault)
    for test in network.tests:
        problems += _test_problems(network, test)
    for code, entry in network.codes.items():
        where = f"code {code}: suppresses"
        problems += _unknown(where, "a code of the network", entry.suppresses, network.codes)
    where = "outside: with"
    problems += _unknown(where, "a code of the network", network.outside.with_codes, network.codes)
    if max(network.outside.share, *network.outside.with_codes.values(), 0.0) >= 1.0:
        problems.append("outside: expected shares below 1, got 1")
    return problems + list(_circles(network))


def _fault_problems(network: Network, fault: Fault) -> Iterator[str]:
    where = f"fault {fault.id}"
    if fault.id == OUTSIDE:
        yield f"{where}: expected another id, got the one that means none of these"
    yield from _unknown(f"{where}: sets", "a code of the network", fault.sets, network.codes)
    others = [other.id for other in network.faults if other.id != fault.id]
    yield from _unknown(f"{where}: leads_to", "the id of another fault", fault.leads_to, others)
    cures = fault.repair.cures
    yield from _unknown(f"{where}: repair: cures", "the id of another fault", cures, others)
    complaints = network.complaints
    yield from _unknown(
        f"{where}: complaints", "a complaint of the network", fault.complaints, complaints
    )
    if fault.present <= 0.0:
        yield f"{where}: present: expected a chance above 0, got 0"


def _test_problems(network: Network, test: Test) -> Iterator[str]:
    where = f"test {test.id}"
    tests = [other.id for other in network.tests if other.id != test.id]
    faults = [fault.id for fault in network.faults]
    yield from _unknown(f"{where}: after", "the id of another test", test.after, tests)
    yield from _doubled(f"{where}: observations", [item.id for item in test.observations])
    if test.setup is not None:
        yield from _unknown(f"{where}: setup", "a set-up", [test.setup], network.setups)
    for item in test.observations:
        place = f"{where}: observation {item.id}"
        yield from _doubled(f"{place}: bands", [band.id for band in item.bands])
        for band in item.bands:
            yield from _unknown(f"{place}: shows", "the id of a fault", band.shows, faults)
            known = [*tests, *network.setups]
            yield from _unknown(f"{place}: stops", "another test or a set-up", band.stops, known)


def _circles(network: Network) -> Iterator[str]:
    after = {test.id: test.after for test in network.tests}
    ready: set[str] = set()
    while True:
        more = {name for name, first in after.items() if name not in ready and ready >= set(first)}
        if not more:
            break
        ready |= more
    waiting = [name for name in after if name not in ready and set(after[name]) <= set(after)]
    if waiting:
        yield f"tests: expected an order, got tests that wait for each other: {', '.join(waiting)}"


def _unknown(where: str, expected: str, names: Iterable[str], known: Iterable[str]) -> list[str]:
    allowed = set(known)
    return [f"{where}: expected {expected}, got {name!r}" for name in names if name not in allowed]


def _doubled(where: str, names: list[str]) -> list[str]:
    twice = sorted({name for name in names if names.count(name) > 1})
    return [f"{where}: expected each id once, got {name!r} twice" for name in twice]
