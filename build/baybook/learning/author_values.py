"""The chances of a procedure that closed jobs can tell of, by where they stand in its source."""

from collections.abc import Iterator, Mapping
from copy import deepcopy
from dataclasses import dataclass
from typing import Any

from baybook.book.sources.read import Path
from baycalc.isolation.model.bayes_net import Key
from baycalc.isolation.model.fault_model import ABNORMAL, OUTSIDE

LEAK = ""
"""In place of a fault: what brings an outcome with none of the faults."""

Brings = dict[str, tuple[Path, ...]]
"""For each fault that brings an outcome (`LEAK` too) where its chances stand, band by band."""


@dataclass(frozen=True)
class ValuePlace:
    """Where one value stands.

    Attributes
    ----------
    path : tuple
        In the front matter of the procedure.
    holder, name : dict, str
        In the network as plain data.
    """

    path: Path
    holder: dict[str, Any]
    name: str

    @property
    def value(self) -> float:
        """The value [-]."""
        return float(self.holder[self.name])


def places(network: dict[str, Any]) -> Iterator[ValuePlace]:
    """Give every chance of a network with its place in the source.

    Parameters
    ----------
    network : dict
        The network as plain data; setting a value in a holder changes it [-]
    """
    for fault in network["faults"]:
        at: Path = ("faults", fault["id"])
        yield ValuePlace((*at, "often"), fault, "often")
        for field in ("sets", "complaints"):
            for name in fault[field]:
                yield ValuePlace((*at, field, name), fault[field], name)
    outside = network["outside"]
    yield ValuePlace(("outside",), outside, "share")
    for code in outside["with"]:
        yield ValuePlace(("outside-with", code), outside["with"], code)
    for test in network["tests"]:
        for seen in test["observations"]:
            for band in seen["bands"]:
                at = _band_path(test["id"], seen["id"], band["id"])
                for fault in band["shows"]:
                    yield ValuePlace((*at, "shows", fault), band["shows"], fault)
                yield ValuePlace((*at, "false-alarm"), band, "false_alarm")


def _band_path(test: str, observation: str, band: str) -> Path:
    at: Path = ("tests", test, "observations", observation)
    return at if band == ABNORMAL else (*at, "bands", band)


def brings(network: dict[str, Any]) -> dict[Key, Brings]:
    """Give for each piece of evidence what brings it, and where the chances of that stand.

    Parameters
    ----------
    network : dict
        The network as plain data [-]
    """
    found: dict[Key, Brings] = {}
    for kind, field in (("code", "sets"), ("complaint", "complaints")):
        for fault in network["faults"]:
            for name in fault[field]:
                path: Path = ("faults", fault["id"], field, name)
                found.setdefault(Key(kind, name), {})[fault["id"]] = (path,)
    for test in network["tests"]:
        for seen in test["observations"]:
            paths = [_band_path(test["id"], seen["id"], band["id"]) for band in seen["bands"]]
            faults = dict.fromkeys(fault for band in seen["bands"] for fault in band["shows"])
            of_key: Brings = {
                fault: tuple((*path, "shows", fault) for path in paths) for fault in faults
            }
            of_key[LEAK] = tuple((*path, "false-alarm") for path in paths)
            found[Key("test", test["id"], seen["id"])] = of_key
    return found


def often(network: dict[str, Any]) -> dict[str, Path]:
    """Give for each fault where it stands how often it comes."""
    return {fault["id"]: ("faults", fault["id"], "often") for fault in network["faults"]}


def outside_path(code: str) -> Path:
    """Give where the share of a cause outside stands that a stored code calls for, or no code."""
    return ("outside-with", code) if code else (OUTSIDE,)


def with_values(network: dict[str, Any], values: Mapping[Path, float]) -> dict[str, Any]:
    """Give a network with other values in their places [-]."""
    other = deepcopy(network)
    for place in places(other):
        if place.path in values:
            place.holder[place.name] = values[place.path]
    return other
