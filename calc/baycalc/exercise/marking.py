"""The marks of an exercise that has ended: five parts of a hundred points, each with a sentence."""

from dataclasses import dataclass
from typing import Any

from baycalc.exercise.best_order import BestOrder, best_order
from baycalc.exercise.run import Done, ExerciseRun
from baycalc.isolation.model.bayes_net import Model
from baycalc.isolation.model.fault_model import OUTSIDE
from baycalc.text import capital, duration, money

MENDED, LOOKED, PROOF, COST, ORDER = 35, 20, 15, 20, 10
"""Most points of each part [-]."""

CAUSE, KNOCK_ON = 20, 15
"""How a cause and what it led to share the points of the repair [-]."""

FULL, NONE = 1.5, 3.0
"""How often the plan's mean is spent where all points of the cost are given, and none [-]."""

HELP = 2
"""Points that each use of help takes from those of the cost [-]."""

DANGEROUS = 40
"""Most points after a dangerous order [-]."""


@dataclass(frozen=True)
class MarkedPart:
    """One part of the marks.

    Attributes
    ----------
    name : str
        What is marked.
    points, most : int
        Points given, and the most of them [-].
    says : str
        Why so many.
    """

    name: str
    points: int
    most: int
    says: str


@dataclass(frozen=True)
class Marks:
    """The marks of an exercise.

    Attributes
    ----------
    right : bool
        Whether nothing is left of what was wrong, or the car was handed on rightly.
    parts : tuple of MarkedPart
        The parts.
    total : int
        The points in all [-].
    again : bool
        Whether the exercise is done again, because something was dangerous.
    notes : tuple of str
        What else is told, in sentences.
    hidden : tuple of str
        The faults that were there, in words.
    best : tuple of str
        The cheapest order for this very car, in words.
    """

    right: bool
    parts: tuple[MarkedPart, ...]
    total: int
    again: bool
    notes: tuple[str, ...]
    hidden: tuple[str, ...]
    best: tuple[str, ...]


def marks_of(run: ExerciseRun) -> Marks:
    """Mark an exercise that has ended."""
    right = _is_right(run)
    share = 1.0 if right else _mended_share(run)
    earned = right or share > 0.0
    parts = (
        _mended(run, right, share),
        _looked(run, earned),
        _proof(run, right, earned),
        _cost(run, right),
        _order(run, earned),
    )
    dangers = [done.danger for done in run.done if done.danger]
    total = sum(part.points for part in parts)
    best = best_order(ExerciseRun(run.model, run.exercise, run.readings, weighs=False))
    return Marks(
        right=right,
        parts=parts,
        total=min(total, DANGEROUS) if dangers else total,
        again=bool(dangers),
        notes=tuple(_notes(run, best, bool(dangers))),
        hidden=tuple(_label(run.model, fault) for fault in run.faults),
        best=tuple(_best_texts(run, best)),
    )


def marks_data(marks: Marks) -> dict[str, Any]:
    """Give marks as plain JSON."""
    return {
        "right": marks.right,
        "total": marks.total,
        "text": f"{marks.total} of 100 points",
        "again": marks.again,
        "parts": [
            {
                "name": part.name,
                "points": part.points,
                "most": part.most,
                "told": f"{part.points} of {part.most}",
                "says": part.says,
            }
            for part in marks.parts
        ],
        "notes": list(marks.notes),
        "hidden": list(marks.hidden),
        "best": list(marks.best),
    }


def _is_right(run: ExerciseRun) -> bool:
    """Tell whether a job ended as it should."""
    bought = any(done.bought for done in run.done)
    if not run.faults:
        return not bought
    if run.car.members == (OUTSIDE,):
        return run.ended == "stop"
    return run.car.is_good and run.ended == "close"


def _mended_share(run: ExerciseRun) -> float:
    """Give the share of the guilty parts that were mended; a cause counts for more [-]."""
    weights = {fault: float(CAUSE) for fault in run.faults}
    for fault in run.model.network.faults:
        if fault.id in weights:
            for name in fault.leads_to:
                if name in weights and name != fault.id:
                    weights[name] = float(KNOCK_ON)
    cured = {fault for done in run.done for fault in done.cured}
    whole = sum(weights.values())
    return (
        sum(weight for fault, weight in weights.items() if fault in cured) / whole if whole else 0.0
    )


def _mended(run: ExerciseRun, right: bool, share: float) -> MarkedPart:
    hidden = " and ".join(_label(run.model, fault) for fault in run.faults)
    if not run.faults:
        says = "Nothing was wrong with this car" + (
            ", and no part was bought." if right else ", yet a part was bought."
        )
    elif OUTSIDE in run.faults:
        says = "The cause lay outside this procedure" + (
            ", and the job went there." if right else ", and the job did not end there."
        )
    elif share == 1.0:
        says = f"Found and mended: {hidden}."
        if not run.car.is_good:
            says += f" Left open: {' and '.join(_label(run.model, f) for f in run.car.members)}."
    elif share > 0.0:
        says = f"A part of it was mended. The car had: {hidden}."
    else:
        says = f"Not mended. The car had: {hidden}."
    return MarkedPart("Guilty parts found and mended", round(MENDED * share), MENDED, says)


def _looked(run: ExerciseRun, earned: bool) -> MarkedPart:
    bought = [done for done in run.done if done.bought]
    guessed = [done for done in bought if not done.spoken]
    name = "Looked before buying"
    if not earned:
        return MarkedPart(name, 0, LOOKED, "Nothing guilty was found, so nothing counts here.")
    if not bought:
        return MarkedPart(name, LOOKED, LOOKED, "No part was bought.")
    share = 1.0 - len(guessed) / len(bought)
    if not guessed:
        says = "Before each part was bought, a test had spoken for it."
    else:
        names = ", ".join(_label(run.model, done.id) for done in guessed)
        says = f"A guess, right or not, for no test had spoken for it: {names}."
    return MarkedPart(name, round(LOOKED * share), LOOKED, says)


def _proof(run: ExerciseRun, right: bool, earned: bool) -> MarkedPart:
    name = "Proof done and read rightly"
    repairs = [place for place, done in enumerate(run.done) if done.kind in ("repair", "outside")]
    proofs = [place for place, done in enumerate(run.done) if done.kind == "proof"]
    if right and run.ended == "stop":
        return MarkedPart(
            name, PROOF, PROOF, "There was no repair to prove; the job was handed on."
        )
    if not repairs:
        return MarkedPart(name, 0, PROOF, "Nothing was repaired, so nothing was proven.")
    if not proofs or proofs[-1] < repairs[-1]:
        return MarkedPart(name, 0, PROOF, "No proof was done after the last repair.")
    if run.ended == "stop":
        return MarkedPart(name, 0, PROOF, "The job was given up after its proof.")
    if not run.done[-1].good:
        return MarkedPart(name, 0, PROOF, "The job was closed though its proof had failed.")
    if not earned:
        return MarkedPart(name, 0, PROOF, "The proof passed though nothing guilty was mended.")
    if not right:
        says = "The proof passed and the job was closed. The proof missed what is left."
        return MarkedPart(name, PROOF, PROOF, says)
    return MarkedPart(
        name, PROOF, PROOF, "The proof was done after the last repair, and it passed."
    )


def _cost(run: ExerciseRun, right: bool) -> MarkedPart:
    name = "Cost against the plan"
    spent, mean = _spent(run), run.exercise.money
    told = f"Spent: {_cost_text(run, run.job.minutes, spent)}. "
    told += (
        f"The plan spends {_cost_text(run, run.exercise.minutes, mean)} on average on these faults."
    )
    if not right:
        return MarkedPart(name, 0, COST, f"{told} Cost counts where the job ends right.")
    ratio = spent / mean if mean > 0.0 else 1.0
    share = min(1.0, max(0.0, (NONE - ratio) / (NONE - FULL)))
    helps = sum(done.kind == "help" for done in run.done)
    points = max(0, round(COST * share) - HELP * helps)
    if helps:
        told += f" Help was asked for {_times(helps)}: {HELP} points less each time."
    return MarkedPart(name, points, COST, told)


def _order(run: ExerciseRun, earned: bool) -> MarkedPart:
    dangers = [done.danger for done in run.done if done.danger]
    if dangers:
        return MarkedPart("Order safe", 0, ORDER, " ".join(dict.fromkeys(dangers)))
    points = ORDER if earned else 0
    return MarkedPart(
        "Order safe", points, ORDER, "No test was done before one that must come first."
    )


def _notes(run: ExerciseRun, best: BestOrder | None, dangerous: bool) -> list[str]:
    notes = []
    if dangerous:
        notes.append(
            f"A dangerous order: at most {DANGEROUS} points in all, and the exercise is done again."
        )
    empty = [done for done in run.done if done.kind == "test" and not done.told]
    if empty:
        names = ", ".join(dict.fromkeys(f"“{run.model.tests[done.id].title}”" for done in empty))
        notes.append(f"Told nothing new: {names}.")
    vain = [done for done in run.done if done.kind == "repair" and not done.good]
    if vain:
        names = ", ".join(_label(run.model, done.id) for done in vain)
        notes.append(f"Done in vain: the repair of {names}.")
    waits = run.job.wait
    if waits:
        notes.append(f"The car stood for {duration(waits)}; that is not counted in the cost.")
    if best is not None:
        cost = _cost_text(run, best.minutes, best.money)
        notes.append(f"The cheapest order for this very car takes {cost}. It is shown, not scored.")
    return notes


def _best_texts(run: ExerciseRun, best: BestOrder | None) -> list[str]:
    if best is None:
        return []
    return [act_title(run.model, Done(kind, name)) for kind, name in best.acts]


def act_title(model: Model, done: Done) -> str:
    """Name an act."""
    if done.kind == "test":
        return model.tests[done.id].title
    if done.kind == "repair":
        return f"Repair: {_label(model, done.id)}"
    return {
        "outside": "Look outside this procedure",
        "proof": "Prove the repair",
        "help": "Help asked for",
        "close": "Close the job",
        "stop": "Hand the job on",
    }[done.kind]


def _label(model: Model, fault: str) -> str:
    return capital(model.labels[model.number[fault]])


def _spent(run: ExerciseRun) -> float:
    """Give work at its rate and parts, as the plan's mean is counted [money]."""
    return run.job.minutes * run.model.network.rate + run.job.price


def _cost_text(run: ExerciseRun, minutes: float, amount: float) -> str:
    return f"{duration(minutes)}, {money(amount, run.model.network.currency or '')} with parts"


def _times(count: int) -> str:
    return "once" if count == 1 else "twice" if count == 2 else f"{count} times"
