"""What the record of a job says: entries left out, contradictions, what is handed on."""

from baycalc.isolation.inference.conflicts import Conflict, conflicts
from baycalc.isolation.json_reader import Json
from baycalc.isolation.model.fault_model import OUTSIDE
from baycalc.isolation.planning.case import Case
from baycalc.isolation.planning.confirmation import outcome
from baycalc.isolation.report.wording import UNLIKELY, event_text, fault_name, result_text
from baycalc.text import capital, percent, sentence


def discarded_entries(case: Case, unknown: list[tuple[int, str]]) -> list[Json]:
    """Name every entry that is left out: of another edition, or contradicted by newer ones."""
    rows: list[Json] = [
        {"place": place, "text": f"An entry of another edition is left out: {why}."}
        for place, why in unknown
    ]
    events = [event for stage in case.known.evidence.stages for event in stage.all()]
    for event in events:
        if event.place in case.known.discarded:
            text = f"Left out, as newer entries contradict it: {event_text(case, event)}."
            rows.append({"place": max(event.place, -1), "text": text})
    return rows


def contradictions(case: Case) -> list[Json]:
    """Tell the evidence that can hardly be true together."""
    return [_conflict(case, one) for one in conflicts(case.model, case.known.evidence)]


def _conflict(case: Case, conflict: Conflict) -> Json:
    events = [event for stage in case.known.evidence.stages for event in stage.all()]
    named = [event_text(case, e) for e in events if e.place in conflict.places]
    how = "cannot be true" if conflict.ratio <= 0.0 else "can hardly be true"
    together = " together" if len(named) > 1 else ""
    told = " and ".join(f"“{name}”" for name in named)
    places = [max(place, -1) for place in conflict.places]
    return {"places": places, "text": f"{capital(told)} {how}{together}: check again."}


def hand_on(case: Case) -> list[str]:
    """Say what the next one should know."""
    normal: list[str] = []
    abnormal: list[str] = []
    for event in case.known.events:
        place = outcome(event) if event.key.observation else None
        if place is not None:
            (abnormal if place else normal).append(result_text(case, event.key, place))
    rows = [f"Not normal: {text}" for text in abnormal]
    rows += [f"Normal: {text}" for text in normal]
    rows += [f"Repaired: {fault_name(case, name)}" for name in case.job.repaired]
    left = sorted(case.suspects.marginals.items(), key=lambda pair: -pair[1])
    rows += [
        f"Still possible: {fault_name(case, fault)}, {percent(share)}"
        for fault, share in left
        if share >= UNLIKELY and fault != OUTSIDE
    ]
    return [sentence(row) for row in rows]
