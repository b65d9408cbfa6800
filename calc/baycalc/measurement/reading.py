"""Judges one reading of a procedure: for this limit, this gauge and this place."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from baycalc.forms.present import Json, write_verdict
from baycalc.measurement.decision import TOO_CLOSE, Limit, judge, likelihood
from baycalc.measurement.instrument import GRADES, Gauge
from baycalc.measurement.settle import ways_to_settle
from baycalc.physics.air import HIGHEST, LOWEST, SEA_LEVEL_PRESSURE, standard_pressure
from baycalc.quantities import units
from baycalc.quantities.kinds import Kind
from baycalc.quantities.numbers import quote
from baycalc.text import sentence


def judge_reading(request: Mapping[str, Any]) -> Json:
    """Judge one reading as it was typed.

    Parameters
    ----------
    request : Mapping[str, Any]
        ``reading`` as typed, its ``unit`` and ``kind``; ``low`` and ``high`` (SI or None) with
        ``scales`` (true where they fall with the air pressure); ``reference`` of a pressure;
        ``gauge`` (fields of `Gauge`, SI) and ``own_gauge`` (``span``, ``grade``, ``resolution`` as
        typed; empty ones change nothing); ``altitude`` as typed, or empty; ``units`` (US, metric)
        to write the verdict in.

    Returns
    -------
    dict
        ``verdict`` (with ``settle``: what would settle it), ``likelihood`` (abnormal, normal) and
        ``si``; or ``error``, one sentence.
    """
    try:
        return _judged(request)
    except units.QuantityError as problem:
        return {"error": sentence(str(problem))}


def _judged(request: Mapping[str, Any]) -> Json:
    kind = Kind(request["kind"], tuple(request["units"]))
    if request.get("low") is None and request.get("high") is None:
        raise units.QuantityError("there is no limit yet: choose the car, or give its figure")
    reading = units.installed().parse(kind.name, request["reading"], request.get("unit"))
    air = _air(request.get("altitude", ""))
    _refuse_impossible(reading, air, request)
    gauge = _gauge(request)
    limit = _limit(request, air)
    uncertainty = gauge.uncertainty(reading)
    verdict = judge(reading, uncertainty, limit, kind=kind)
    settle = []
    if verdict.outcome == TOO_CLOSE:
        settle = [{"text": way, "note": ""} for way in ways_to_settle(reading, gauge, limit, kind)]
    return {
        "verdict": write_verdict(verdict, kind.units) | {"settle": settle},
        "likelihood": list(likelihood(reading, uncertainty, limit, gauge.span)),
        "si": reading,
    }


def _air(altitude: str) -> float:
    if not altitude.strip():
        return SEA_LEVEL_PRESSURE
    height = units.installed().parse("length", altitude)
    if not LOWEST <= height <= HIGHEST:
        raise units.QuantityError(
            "the altitude of this place: expected "
            f"{units.written('length', LOWEST, 'ft', 'm')} to "
            f"{units.written('length', HIGHEST, 'ft', 'm')}, got {altitude}"
        )
    return standard_pressure(height)


def _refuse_impossible(reading: float, air: float, request: Mapping[str, Any]) -> None:
    if request.get("reference") == "vacuum" and reading > air:
        here = units.written("pressure", air, *request["units"])
        raise units.QuantityError(f"no vacuum can be deeper than the air pressure here, {here}")
    if request.get("reference") == "absolute" and reading < 0:
        raise units.QuantityError("an absolute pressure cannot be below zero")


def _gauge(request: Mapping[str, Any]) -> Gauge:
    gauge = Gauge(**request.get("gauge", {}))
    own = request.get("own_gauge") or {}
    if own.get("grade") and own["grade"] not in GRADES:
        raise units.QuantityError(
            f"grade of your gauge: expected one of {', '.join(GRADES)}; got {quote(own['grade'])}"
        )
    return replace(
        gauge,
        span=_own(own, "span", gauge.span, request),
        resolution=_own(own, "resolution", gauge.resolution, request),
        grade=own.get("grade") or gauge.grade,
    )


def _own(own: Mapping[str, str], name: str, otherwise: float, request: Mapping[str, Any]) -> float:
    if not own.get(name):
        return otherwise
    kind = request["kind"]
    scale = f"{kind} difference" if kind == "temperature" else kind
    try:
        return units.installed().parse(scale, own[name], request["units"][0])
    except units.QuantityError as problem:
        raise units.QuantityError(f"{name} of your gauge: {problem}") from problem


def _limit(request: Mapping[str, Any], air: float) -> Limit:
    share = air / SEA_LEVEL_PRESSURE if request.get("scales") else 1.0
    low, high = request.get("low"), request.get("high")
    return Limit(
        low=None if low is None else low * share, high=None if high is None else high * share
    )
