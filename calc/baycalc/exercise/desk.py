"""What a student sees of an exercise at one moment, every text ready to show."""

import json
from collections.abc import Mapping
from typing import Any

from baycalc.exercise.marking import act_title, marks_data, marks_of
from baycalc.exercise.result_file import result_data
from baycalc.exercise.run import BadAct, CarAnswer, Done, ExerciseRun
from baycalc.exercise.seal import unseal
from baycalc.exercise.setting import Exercise, NoExercise
from baycalc.isolation import engine
from baycalc.isolation.model.fault_model import OUTSIDE
from baycalc.isolation.planning.case import open_case
from baycalc.isolation.planning.decide import decide
from baycalc.isolation.planning.state import change_to
from baycalc.isolation.report.explanation import reason_for
from baycalc.text import capital, duration, money, sentence

Json = dict[str, Any]

_last: list[tuple[tuple[str, str], list[Json], ExerciseRun]] = []
"""The exercise answered last: its acts need not be done anew for one more."""


def answer_exercise(request: Mapping[str, Any]) -> Json:
    """Answer the page: an exercise after some acts.

    Parameters
    ----------
    request : Mapping
        ``id`` of the open network, ``token`` (sealed), ``readings``, ``acts``, ``book``,
        ``student``, ``network``, the book's name of the network, and ``vehicle``, the id of the
        car that the readings are of.

    Returns
    -------
    dict
        See `desk_view`; or ``error``, one sentence.
    """
    model = engine.opened(request["id"])
    if model is None:
        return {"error": "unknown network"}
    acts = list(request["acts"])
    try:
        exercise = unseal(request["token"])
        if exercise.network != request["network"]:
            raise NoExercise("This exercise was set with another edition of the procedure.")
        if exercise.vehicle != request["vehicle"]:
            raise NoExercise(f"This exercise is of another car: {exercise.vehicle}.")
        key = (request["id"], request["token"])
        begun = (
            _last[0]
            if _last and _last[0][0] == key and _last[0][1] == acts[: len(_last[0][1])]
            else None
        )
        run = begun[2] if begun else ExerciseRun(model, exercise, request["readings"])
        for act in acts[len(run.done) :]:
            run.act(act)
    except (NoExercise, BadAct) as error:
        _last.clear()
        return {"error": str(error)}
    _last[:] = [(key, acts, run)]
    view = desk_view(run)
    if run.ended:
        data = result_data(run, acts, request["book"], request["student"])
        view["file"] = json.dumps(data, ensure_ascii=False, indent=1)
        view["file_name"] = result_name(run.exercise, request["student"])
    return view


def desk_view(run: ExerciseRun) -> Json:
    """Give what a student sees.

    Returns
    -------
    dict
        ``comes_in`` (a sentence), ``codes`` and ``complaints`` (ids), ``clock``, ``acts`` (each
        with ``title``, ``says`` and ``rows``, a row with what was ``asked`` and ``told``),
        ``tests``, ``repairs``, ``ways`` (other acts that can be done now), ``advice`` (empty
        without help), ``ended``, and at the end ``marks``.
    """
    return {
        "comes_in": comes_in(run),
        "codes": list(run.car.codes),
        "complaints": list(run.car.complaints),
        "clock": clock(run),
        "acts": [_act(run, done) for done in run.done],
        "tests": _tests(run),
        "repairs": _repairs(run),
        "ways": _ways(run),
        "advice": _advice(run),
        "ended": run.ended,
        "marks": marks_data(marks_of(run)) if run.ended else None,
    }


def result_name(exercise: Exercise, student: str) -> str:
    """Give a name for a result file, of plain letters."""
    words = f"{exercise.name or exercise.procedure}-{student or 'result'}".lower()
    plain = "".join(sign if sign.isascii() and sign.isalnum() else "-" for sign in words)
    return f"{'-'.join(filter(None, plain.split('-')))[:80]}.json"


def comes_in(run: ExerciseRun) -> str:
    """Say with what the car comes in."""
    codes = run.car.codes
    told = f"Codes stored: {', '.join(codes)}." if codes else "No code is stored."
    says = [run.model.network.complaints[name].says for name in run.car.complaints]
    return told + (f" The owner says: {'; '.join(says)}." if says else "")


def clock(run: ExerciseRun) -> str:
    """Say what was spent so far."""
    job = run.job
    parts = [f"Work {duration(job.minutes)}"]
    if job.wait:
        parts.append(f"standing {duration(job.wait)}")
    parts.append(f"parts {money(job.price, run.model.network.currency or '')}")
    return ", ".join(parts)


def act_says(run: ExerciseRun, done: Done) -> str:
    """Say in a sentence what came of an act; what a test showed stands in its rows."""
    if done.kind == "repair":
        return "It is done. The proof says whether the fault is gone."
    if done.kind == "outside":
        return "A cause was found there, and mended." if done.good else "Nothing was found there."
    if done.kind == "proof":
        codes = bool(run.model.network.codes)
        if done.good:
            return f"The complaint is gone{' and no code comes back' if codes else ''}."
        return f"The complaint is still there{' or a code comes back' if codes else ''}."
    return ""


def _act(run: ExerciseRun, done: Done) -> Json:
    return {
        "kind": done.kind,
        "id": done.id,
        "title": act_title(run.model, done),
        "says": act_says(run, done),
        "good": done.good,
        "rows": [_row(each) for each in done.shown],
    }


def _row(shown: CarAnswer) -> Json:
    """Give a row as the record of a job keeps it."""
    return {
        "observation": shown.observation,
        "asked": sentence_of(shown),
        "text": shown.text,
        "told": _told(shown),
        "unit": shown.unit,
        "band": "" if shown.is_reading else shown.band,
        "verdict": shown.verdict,
        "likelihood": list(shown.likelihood),
    }


def _told(shown: CarAnswer) -> str:
    """Give what the car showed, with its verdict."""
    told = f"{shown.text} {shown.unit}".strip()
    return f"{told}, {shown.verdict['outcome']}" if shown.verdict else told


def sentence_of(shown: CarAnswer) -> str:
    """Give what was asked or read, as a line begins."""
    return shown.asked if shown.asked.endswith("?") else f"{capital(shown.asked)}:"


def _tests(run: ExerciseRun) -> list[Json]:
    network = run.model.network
    rows = []
    for test in network.tests:
        change = change_to(network, run.job.stand, test.setup)
        time = duration(test.minutes + change.minutes)
        if change.wait:
            time += f", after {duration(change.wait)} of standing"
        rows.append(
            {"id": test.id, "title": test.title, "time": time, "done": test.id in run.job.done}
        )
    return rows


def _repairs(run: ExerciseRun) -> list[Json]:
    currency = run.model.network.currency or ""
    rows = []
    for fault in run.model.network.faults:
        price = fault.repair.price
        bill = f"{money(price, currency)} for parts" if price else "no part to buy"
        time = f"{duration(fault.repair.minutes)}, {bill}"
        rows.append({"id": fault.id, "title": capital(fault.says), "time": time})
    return rows


def _ways(run: ExerciseRun) -> list[Json]:
    """List the acts beside tests and repairs that can be done now."""
    if run.ended:
        return []
    kinds = ["proof"]
    if OUTSIDE in run.model.number:
        kinds.append("outside")
    if run.exercise.help == "on-demand":
        kinds.append("help")
    if any(done.kind == "proof" for done in run.done):
        kinds.append("close")
    kinds.append("stop")
    titles = {"help": "Ask for help", "stop": "Hand the job on or give up"}
    return [
        {"kind": kind, "title": titles.get(kind, act_title(run.model, Done(kind)))}
        for kind in kinds
    ]


def _advice(run: ExerciseRun) -> list[str]:
    asked = run.done and run.done[-1].kind == "help"
    if run.ended or not (run.exercise.help == "on" or asked):
        return []
    case = open_case(run.model, run.events)
    reason = reason_for(case, decide(case))
    return [sentence(text) for text in (reason.headline, reason.why) if text]
