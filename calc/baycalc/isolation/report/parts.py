"""The parts of the system as the drawing shows them: how suspect, tested, or tested now."""

from baycalc.isolation.json_reader import Json
from baycalc.isolation.planning.case import Case
from baycalc.isolation.planning.decide import Action
from baycalc.isolation.report.wording import UNLIKELY
from baycalc.text import percent


def parts(case: Case, action: Action) -> list[Json]:
    """Say of each part how likely one of its faults is there, and whether it was tested.

    Parameters
    ----------
    case : Case
        The job at this moment.
    action : Action
        What is to be done next.

    Returns
    -------
    parts : list of dict
        By part: its share, "most", "suspect" or "" for its outline, whether all of its faults
        were looked for, whether the next test looks at it, and the words beside it.
    """
    faults: dict[str, int] = {}
    for fault in case.model.network.faults:
        faults[fault.part] = faults.get(fault.part, 0) | 1 << case.model.number[fault.id]
    shares = {part: _share(case, mask) for part, mask in faults.items()}
    greatest = max(shares.values(), default=0.0)
    looked, now = _looked_for(case), _looked_for_by(case, action)
    rows = []
    for part, mask in faults.items():
        share = shares[part]
        is_tested, is_here = mask & ~looked == 0, bool(mask & now)
        outline = "" if share < UNLIKELY else "most" if share == greatest else "suspect"
        words = ["now" if is_here else "tested" if is_tested else ""]
        words += [percent(share) if outline else ""]
        rows.append(
            {
                "part": part,
                "share": share,
                "outline": outline,
                "tested": is_tested,
                "here": is_here,
                "text": " ".join(filter(None, words)),
            }
        )
    return rows


def _share(case: Case, mask: int) -> float:
    """Add up the belief in the sets that hold one of some faults."""
    belief = case.known.belief
    sets = zip(belief.weights, belief.model.sets.members, strict=True)
    return sum(weight for weight, members in sets if any(mask >> fault & 1 for fault in members))


def _looked_for(case: Case) -> int:
    rules = case.problem.rules
    found = 0
    for key in case.job.results:
        found |= rules.looks_for.get(key, 0)
    return found


def _looked_for_by(case: Case, action: Action) -> int:
    if action.kind != "test":
        return 0
    rules = case.problem.rules
    found = 0
    for key in rules.keys:
        found |= rules.looks_for[key] if key.name == action.id else 0
    return found
