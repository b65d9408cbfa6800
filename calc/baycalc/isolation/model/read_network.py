"""Reads a network from plain JSON, and tells every mistake in it."""

from collections.abc import Callable

from baycalc.isolation.json_reader import Fields, Json
from baycalc.isolation.model.fault_model import (
    ABNORMAL,
    BASE,
    OUTSIDE_FOUND,
    OUTSIDE_MINUTES,
    OUTSIDE_SHARE,
    Band,
    Code,
    Complaint,
    Fault,
    Link,
    Network,
    Observation,
    Opening,
    Outside,
    Repair,
    Setup,
    Test,
)
from baycalc.isolation.model.references import reference_problems


def from_data(data: Json) -> Network:
    """Read a network from plain JSON.

    Parameters
    ----------
    data : dict
        The network as the generator writes it [-].

    Returns
    -------
    network : Network
        The same, typed and checked.

    Raises
    ------
    ValueError
        With one line for every problem in the data.
    """
    problems: list[str] = []
    top = Fields(data, "", problems)
    network = Network(
        faults=tuple(_fault(item) for item in top.each("faults")),
        tests=tuple(_test(item) for item in top.each("tests")),
        outside=_outside(top.inner("outside")),
        codes=_named(top, "codes", _code),
        complaints=_named(top, "complaints", _complaint),
        setups=_named(top, "setups", _setup),
        opening=tuple(_opening(item) for item in top.each("opening")),
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


def _named[Item](top: Fields, name: str, read: Callable[[Fields], Item]) -> dict[str, Item]:
    group = top.inner(name)
    return {key: _whole(group.inner(key), read) for key in group.data}


def _whole[Item](item: Fields, read: Callable[[Fields], Item]) -> Item:
    """Read an object and note what nothing asked for."""
    found = read(item)
    item.finish()
    return found


def _code(item: Fields) -> Code:
    return Code(item.chance("false_alarm", 0.0), item.names("suppresses"))


def _complaint(item: Fields) -> Complaint:
    return Complaint(item.words("says"), item.chance("false_alarm", 0.0))


def _setup(item: Fields) -> Setup:
    return Setup(
        item.number("minutes"),
        item.number("wait", 0.0),
        item.words("state"),
        item.number("burden", 0.0),
        item.words("says"),
    )


def _opening(item: Fields) -> Opening:
    return _whole(
        item, lambda it: Opening(it.text("id"), it.text("title"), it.number("minutes", 0.0))
    )


def _outside(item: Fields) -> Outside:
    return _whole(
        item,
        lambda it: Outside(
            share=it.chance("share", OUTSIDE_SHARE),
            with_codes=it.chances("with"),
            minutes=it.number("minutes", OUTSIDE_MINUTES),
            price=it.number("price", 0.0),
            found=it.chance("found", OUTSIDE_FOUND),
        ),
    )


def _fault(item: Fields) -> Fault:
    links = item.inner("leads_to")
    fault = Fault(
        id=item.text("id"),
        says=item.text("says"),
        part=item.text("part"),
        often=item.number("often", above=True),
        repair=_whole(item.inner("repair"), _repair),
        short=item.words("short"),
        present=item.chance("present", 1.0),
        sets=item.chances("sets"),
        complaints=item.chances("complaints"),
        leads_to={name: _whole(links.inner(name), _link) for name in links.data},
        recheck=item.optional_chance("recheck"),
    )
    item.finish()
    return fault


def _repair(item: Fields) -> Repair:
    return Repair(item.number("minutes"), item.number("price", 0.0), item.names("cures"))


def _link(item: Fields) -> Link:
    return Link(item.chance("chance"), item.chance("later", 0.0))


def _test(item: Fields) -> Test:
    test = Test(
        id=item.text("id"),
        title=item.text("title"),
        minutes=item.number("minutes"),
        short=item.words("short"),
        price=item.number("price", 0.0),
        setup=item.optional_text("setup"),
        after=item.names("after"),
        opening=item.flag("opening"),
        observations=tuple(_observation(entry) for entry in item.each("observations")),
    )
    item.finish()
    return test


def _observation(item: Fields) -> Observation:
    """Read an observation; one with a single abnormal outcome may say it without a band."""
    if "bands" in item.data:
        bands = tuple(_whole(band, _band) for band in item.each("bands"))
    else:
        bands = (_outcome(item, ABNORMAL),)
    observation = Observation(
        item.text("id"), item.words("says"), item.words("normal"), bands, item.flag("restates")
    )
    item.finish()
    return observation


def _band(item: Fields) -> Band:
    return _outcome(item, item.text("id"), item.words("says"))


def _outcome(item: Fields, name: str, says: str = "") -> Band:
    shows, false_alarm = item.chances("shows"), item.chance("false_alarm", 0.0)
    return Band(name, says, shows, false_alarm, item.names("stops"))
