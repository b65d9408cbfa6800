"""What a car with hidden faults shows and becomes, for one draw of chance."""

from baycalc.isolation.inference.filtering import MISSED_RECHECK
from baycalc.isolation.model.bayes_net import RECHECK, Key, Model


def outcome_of(model: Model, present: int, key: Key, drawn: float) -> int:
    """Give the number of the outcome that a car shows.

    Parameters
    ----------
    model : Model
        The model of the procedure.
    present : int
        Number of the set of faults that the car has [-].
    key : Key
        What is looked at.
    drawn : float
        Chance drawn, from 0 up to 1 [-].
    """
    for place, column in enumerate(model.columns(key)):
        drawn -= column[present]
        if drawn < 0.0:
            return place
    return 0


def proof_fails(model: Model, present: int, changed: bool, drawn: float) -> bool:
    """Tell whether the proof of a repair shows that a car is not cured.

    Parameters
    ----------
    model : Model
        The model of the procedure.
    present : int
        Number of the set of faults that the car has [-].
    changed : bool
        Whether a repair has met a fault.
    drawn : float
        Chance drawn, from 0 up to 1 [-].
    """
    missed = MISSED_RECHECK
    if changed or present == 0:
        missed = model.columns(RECHECK)[0][present]
    return drawn >= missed


def after_repair(model: Model, present: int, fault: int, drawn: float) -> int:
    """Give the set of faults that a car has after a repair.

    Parameters
    ----------
    model : Model
        The model of the procedure.
    present : int
        Number of the set of faults that the car has [-].
    fault : int
        Number of the fault whose repair is done [-].
    drawn : float
        Chance drawn, from 0 up to 1 [-].
    """
    moves = model.moves(fault).get(present, [(present, 1.0)])
    drawn *= sum(chance for _, chance in moves)
    for place, chance in moves:
        drawn -= chance
        if drawn < 0.0:
            return place
    return moves[-1][0]
