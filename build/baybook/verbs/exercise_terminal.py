"""An exercise in text on the terminal: one line in, what the car shows out."""

import sys
from typing import Any

from baycalc.exercise.desk import desk_view
from baycalc.exercise.run import BadAct, ExerciseRun

_COMMANDS = """\
  tests          list the tests          test N [metric]  do one
  repairs        list the repairs        repair N         do one
  proof          prove the repair        outside          look outside this procedure
  help           ask for help            close            close the job
  stop           hand the job on         clock            what was spent"""


def work_in_terminal(run: ExerciseRun) -> list[dict[str, str]]:
    """Read acts from the standard input until the exercise ends; return them.

    An input that ends earlier leaves the exercise open.
    """
    acts: list[dict[str, str]] = []
    print(desk_view(run)["comes_in"])
    print(_COMMANDS)
    while not run.ended:
        print("> ", end="", flush=True)
        line = sys.stdin.readline()
        if not line:
            print()
            print("The exercise was left open; nothing is written.")
            break
        _take(run, line.split(), acts)
    return acts


def _take(run: ExerciseRun, words: list[str], acts: list[dict[str, str]]) -> None:
    view = desk_view(run)
    match words:
        case []:
            return
        case ["tests" | "repairs" as which]:
            _print_list(view[which])
        case ["clock"]:
            print(view["clock"])
        case ["test" | "repair" as kind, number, *units]:
            rows = view[f"{kind}s"]
            name = _id_of(rows, number)
            if name is None:
                print(f"Expected a number from 1 to {len(rows)}, got {number}.")
                return
            act = {"do": kind, "id": name}
            _do(run, act | ({"units": units[0]} if kind == "test" and units else {}), acts)
        case ["proof" | "outside" | "help" | "close" | "stop" as kind]:
            _do(run, {"do": kind}, acts)
        case _:
            print(_COMMANDS)


def _print_list(rows: list[dict[str, Any]]) -> None:
    for number, row in enumerate(rows, 1):
        mark = "*" if row.get("done") else " "
        print(f"{number:3}{mark} {row['title']} ({row['time']})")


def _id_of(rows: list[dict[str, Any]], number: str) -> str | None:
    if number.isdecimal() and 1 <= int(number) <= len(rows):
        return str(rows[int(number) - 1]["id"])
    return None


def _do(run: ExerciseRun, act: dict[str, str], acts: list[dict[str, str]]) -> None:
    try:
        run.act(act)
    except BadAct as error:
        print(error)
        return
    acts.append(act)
    view = desk_view(run)
    done = view["acts"][-1]
    print(done["title"])
    for row in done["rows"]:
        verdict = row["verdict"].get("outcome", "")
        told = f"{row['text']} {row['unit']}".strip()
        print(f"    {row['asked']} {told}" + (f" ({verdict})" if verdict else ""))
    for text in (done["says"], *view["advice"]):
        if text:
            print(f"    {text}")
    print(f"    {view['clock']}")
    if view["marks"]:
        _print_marks(view["marks"])


def _print_marks(marks: dict[str, Any]) -> None:
    print(marks["text"])
    for part in marks["parts"]:
        print(f"  {part['points']:3} of {part['most']:3}  {part['name']}. {part['says']}")
    for note in marks["notes"]:
        print(f"  {note}")
    for number, title in enumerate(marks["best"], 1):
        print(f"  {number:3}. {title}")
