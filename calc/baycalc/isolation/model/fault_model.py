"""The fault model of a procedure: faults, what they bring about, and the tests that show them."""

from dataclasses import dataclass, field

OUTSIDE = "outside"
"""Id of the fault "none of these": a cause outside this procedure."""

OUTSIDE_SHARE = 0.05
"""Share of a cause outside where the author gives none [-]; common practice, no source."""

OUTSIDE_MINUTES = 60.0
"""Minutes of a look outside where the author gives none [min]; common practice, no source."""

OUTSIDE_FOUND = 0.7
"""Chance that a look outside finds a cause that is there [-]; common practice, no source."""

BASE = 0.1
"""Chance that a car has faults of this system at all (see `Network.base`) [-]."""

ABNORMAL = "abnormal"
"""Id of the abnormal outcome of an observation that has only one."""


@dataclass(frozen=True)
class Link:
    """How one fault causes another: at once, or later, after it has been repaired.

    Attributes
    ----------
    chance, later : float
        Chance that it has, and that it will after the repair [-].
    """

    chance: float
    later: float = 0.0


@dataclass(frozen=True)
class Repair:
    """What the repair of a fault takes.

    Attributes
    ----------
    minutes, price : float
        Work [min], parts [money].
    cures : tuple of str
        Other faults that it clears.
    """

    minutes: float
    price: float
    cures: tuple[str, ...] = ()


@dataclass(frozen=True)
class Fault:
    """One way in which one part fails.

    Attributes
    ----------
    id, says, part : str
        Id, the failure in words ("ventilation valve stuck open"), and the part.
    often : float
        Weight against the other faults, before anything is known [-].
    repair : Repair
        What its repair takes.
    short : str
        The failure in a few words.
    present : float
        Chance that it is there at one test; below 1 it is intermittent [-].
    sets, complaints : dict
        Chance to set each code, and to bring each complaint [-].
    leads_to : dict
        Knock-on faults.
    recheck : float, optional
        Chance that the proof after a repair shows this fault where it stayed behind after
        another one was repaired; without it the chance that it sets any code of the
        procedure, or 0.95 in a procedure without codes [-].
    """

    id: str
    says: str
    part: str
    often: float
    repair: Repair
    short: str = ""
    present: float = 1.0
    sets: dict[str, float] = field(default_factory=dict)
    complaints: dict[str, float] = field(default_factory=dict)
    leads_to: dict[str, Link] = field(default_factory=dict)
    recheck: float | None = None


@dataclass(frozen=True)
class Band:
    """One abnormal outcome of an observation.

    Attributes
    ----------
    id, says : str
        Id and outcome in words.
    shows : dict
        Chance of each fault to bring it [-].
    false_alarm : float
        Chance of it with none of these faults [-].
    stops : tuple of str
        Tests and set-ups that it forbids.
    """

    id: str
    says: str = ""
    shows: dict[str, float] = field(default_factory=dict)
    false_alarm: float = 0.0
    stops: tuple[str, ...] = ()


@dataclass(frozen=True)
class Observation:
    """What a test shows.

    Attributes
    ----------
    id, says, normal : str
        Id, what is asked or read, and the normal outcome in words.
    bands : tuple of Band
        Its abnormal outcomes, the one that hides the others first.
    restates : bool
        Whether it only says again what the complaint said.
    """

    id: str
    says: str = ""
    normal: str = ""
    bands: tuple[Band, ...] = ()
    restates: bool = False

    def shows(self, fault: str) -> float:
        """Give the chance of a fault alone to make it abnormal [-]."""
        return min(1.0, sum(band.shows.get(fault, 0.0) for band in self.bands))

    def shown(self) -> set[str]:
        """Name the faults that it shows in whatever outcome."""
        return {fault for band in self.bands for fault, chance in band.shows.items() if chance}


@dataclass(frozen=True)
class Test:
    """One thing the technician does.

    Attributes
    ----------
    id, title : str
        Id and title.
    minutes : float
        Work without the set-up [min].
    short : str
        The title in a few words.
    price : float
        What it uses up [money].
    setup : str, optional
        The set-up that it needs.
    after : tuple of str
        Tests that must be done before it.
    opening : bool
        Whether it is done before any planning.
    observations : tuple of Observation
        What it shows.
    """

    id: str
    title: str
    minutes: float
    short: str = ""
    price: float = 0.0
    setup: str | None = None
    after: tuple[str, ...] = ()
    opening: bool = False
    observations: tuple[Observation, ...] = ()


@dataclass(frozen=True)
class Setup:
    """The state of the car that a test needs.

    Attributes
    ----------
    minutes : float
        Work to change into it [min].
    wait : float
        Time that the car must stand first [min].
    state : str
        "cold", "warm", "raised": a car that is in that state already need not wait; or "".
    burden : float
        What its hazards weigh against minutes of work [min].
    says : str
        The set-up in words.
    """

    minutes: float
    wait: float = 0.0
    state: str = ""
    burden: float = 0.0
    says: str = ""


@dataclass(frozen=True)
class Code:
    """A trouble code.

    Attributes
    ----------
    false_alarm : float
        Chance that it is stored with none of the faults present [-].
    suppresses : tuple of str
        Codes that are not set while this one is.
    """

    false_alarm: float = 0.0
    suppresses: tuple[str, ...] = ()


@dataclass(frozen=True)
class Complaint:
    """What a customer says.

    Attributes
    ----------
    says : str
        In their words.
    false_alarm : float
        Chance of it with none of the faults present [-].
    """

    says: str = ""
    false_alarm: float = 0.0


@dataclass(frozen=True)
class Opening:
    """A step at the start of every job, which speaks of no fault.

    Attributes
    ----------
    id, title : str
        Id and title.
    minutes : float
        Work [min].
    """

    id: str
    title: str
    minutes: float


@dataclass(frozen=True)
class Outside:
    """The fault "none of these", and what a look for it takes.

    Attributes
    ----------
    share : float
        Its share of all causes, before anything is known [-].
    with_codes : dict
        That share where a code is stored; of several codes the least counts [-].
    minutes, price, found : float
        Work of a look [min], what it costs [money], chance that it finds the cause [-].
    """

    share: float = OUTSIDE_SHARE
    with_codes: dict[str, float] = field(default_factory=dict)
    minutes: float = OUTSIDE_MINUTES
    price: float = 0.0
    found: float = OUTSIDE_FOUND


@dataclass(frozen=True)
class Network:
    """Faults, codes, complaints and tests of one procedure.

    Attributes
    ----------
    faults : tuple of Fault
        The faults.
    tests : tuple of Test
        The tests, in the order of the page.
    outside : Outside
        The fault "none of these".
    codes, complaints, setups : dict
        By name.
    opening : tuple of Opening
        Steps at the start of every job.
    rate : float
        What a minute costs [money/min].
    recheck_minutes : float
        Minutes of the proof after a repair [min].
    base : float
        Expected number of faults with a cause of their own, before the car is known to have
        any [-].
    currency : str, optional
        The sign written before amounts of money.

    Notes
    -----
    A fault's own chance is its share of all weights times `base`. A car that comes in has at
    least one fault, so `base` does not move the shares of single faults; it decides how often
    a second one is there by coincidence: with 0.1 in about one car of twenty.
    """

    faults: tuple[Fault, ...]
    tests: tuple[Test, ...]
    outside: Outside = field(default_factory=Outside)
    codes: dict[str, Code] = field(default_factory=dict)
    complaints: dict[str, Complaint] = field(default_factory=dict)
    setups: dict[str, Setup] = field(default_factory=dict)
    opening: tuple[Opening, ...] = ()
    rate: float = 1.0
    recheck_minutes: float = 0.0
    base: float = BASE
    currency: str | None = None
