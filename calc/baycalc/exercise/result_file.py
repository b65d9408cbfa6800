"""The file of a worked exercise: what was done, and its marks, which a replay works out again."""

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from baycalc.exercise.marking import Marks, marks_data, marks_of
from baycalc.exercise.run import BadAct, ExerciseRun
from baycalc.exercise.seal import seal, unseal
from baycalc.exercise.setting import Exercise, NoExercise
from baycalc.isolation.model.bayes_net import Model

Json = dict[str, Any]

FORM = "baybook/exercise-result"
VERSION = 1


@dataclass(frozen=True)
class StatedResult:
    """What a file states.

    Attributes
    ----------
    book, student : str
        The book, and who worked.
    exercise : Exercise
        What was set.
    acts : list of dict
        What was done.
    answers : str
        Name of all answers of the car.
    total : int
        The points that it states [-].
    """

    book: str
    student: str
    exercise: Exercise
    acts: list[Json]
    answers: str
    total: int


@dataclass(frozen=True)
class ReplayedResult:
    """A file worked out again.

    Attributes
    ----------
    marks : Marks, optional
        The marks by the replay; None where it did not come to an end.
    differences : tuple of str
        In what the file is not what the replay gives; empty where all agrees.
    """

    marks: Marks | None
    differences: tuple[str, ...]


def result_data(run: ExerciseRun, acts: list[Json], book: str, student: str) -> Json:
    """Write a worked exercise as plain JSON."""
    return {
        "form": FORM,
        "version": VERSION,
        "book": book,
        "student": student,
        "exercise": seal(run.exercise),
        "acts": acts,
        "answers": answers_name(run),
        "marks": marks_data(marks_of(run)),
    }


def answers_name(run: ExerciseRun) -> str:
    """Give a name of all acts and all answers; another answer gives another name."""
    told = [
        [
            done.kind,
            done.id,
            done.good,
            [[each.observation, each.text, each.unit] for each in done.shown],
        ]
        for done in run.done
    ]
    text = json.dumps([seal(run.exercise), told], ensure_ascii=False)
    return hashlib.sha256(text.encode()).hexdigest()[:32]


def read_result(text: str) -> StatedResult:
    """Read a result file.

    Raises
    ------
    NoExercise
        Where it is none.
    """
    try:
        data = json.loads(text)
    except (ValueError, RecursionError):
        raise NoExercise("The file is no JSON.") from None
    if not isinstance(data, dict) or data.get("form") != FORM:
        raise NoExercise("The file is no result of an exercise.")
    if data.get("version") != VERSION:
        raise NoExercise(f"Its version is {data.get('version')!r}; this book reads {VERSION}.")
    acts, marks = data.get("acts"), data.get("marks")
    if not isinstance(acts, list) or not all(isinstance(act, dict) for act in acts):
        raise NoExercise("acts: expected a list of acts.")
    total = marks.get("total") if isinstance(marks, dict) else None
    if not isinstance(total, int) or isinstance(total, bool):
        raise NoExercise("marks.total: expected a whole number.")
    texts = {name: data.get(name) for name in ("book", "student", "exercise", "answers")}
    for name, value in texts.items():
        if not isinstance(value, str):
            raise NoExercise(f"{name}: expected a text.")
    return StatedResult(
        book=str(texts["book"]),
        student=str(texts["student"]),
        exercise=unseal(str(texts["exercise"])),
        acts=acts,
        answers=str(texts["answers"]),
        total=total,
    )


def replay(model: Model, readings: Mapping[str, Json], stated: StatedResult) -> ReplayedResult:
    """Work a file out again from its seed.

    Parameters
    ----------
    model : Model
        The model of the procedure.
    readings : Mapping
        What the readings of its tests are asked.
    stated : StatedResult
        What the file states.

    Raises
    ------
    NoExercise
        Where the procedure has no such fault or code.
    """
    run = ExerciseRun(model, stated.exercise, readings)
    for number, act in enumerate(stated.acts, 1):
        try:
            run.act(act)
        except BadAct as error:
            return ReplayedResult(None, (f"act {number} cannot have been done: {error}",))
    if not run.ended:
        return ReplayedResult(None, ("the exercise was not brought to an end",))
    marks = marks_of(run)
    differences = []
    if marks.total != stated.total:
        differences.append(f"states {stated.total} points, the replay gives {marks.total}")
    if answers_name(run) != stated.answers:
        differences.append("its acts are not those that the answers were given to")
    return ReplayedResult(marks, tuple(differences))
