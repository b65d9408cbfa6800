"""The demo book does what it asks of an author's: every fault is found, and every limit proved."""

import json
import math
import re
from collections import Counter
from collections.abc import Mapping
from pathlib import Path
from statistics import fmean, stdev
from typing import Any

import jsonschema
import pytest

from baybook.book.bound import bind
from baybook.book.car import CarProcedure
from baybook.book.checks.check_book import check_book
from baybook.book.checks.check_gauges import check_gauges
from baybook.book.checks.check_isolation import check_isolation
from baybook.book.checks.check_wording import check_wording
from baybook.book.codes import title
from baybook.book.pint_quantities import unit_table_data
from baybook.book.simulated import PolicyFigures, SimulatedBook, read_simulated
from baybook.book.sources.load import Book, load_book
from baybook.learning.closed_jobs import SheetReader, whole_folder
from baycalc import api
from baycalc.isolation.model.bayes_net import Model
from baycalc.isolation.model.read_network import from_data
from baycalc.isolation.planning.policies import by_guess, by_plan
from baycalc.isolation.report.simulation import Workshop


@pytest.fixture
def book(root: Path) -> Book:
    api.install(unit_table_data())
    return load_book(root / "procedures")


@pytest.fixture
def simulated(root: Path) -> SimulatedBook:
    kept = read_simulated(root / "procedures")
    assert kept is not None
    return kept


def test_no_mistake_and_no_warning(book: Book) -> None:
    assert check_book(book, {name: api.describe(name) for name in api.names()}) == []


def test_every_fault_is_detected_and_told_from_the_others_or_in_a_stated_group(book: Book) -> None:
    assert check_isolation(bind(book)) == []


def test_every_gauge_can_prove_its_limit(book: Book) -> None:
    assert check_gauges(bind(book), book.shared.tools) == []


def test_every_step_is_worded_as_the_check_asks(book: Book) -> None:
    assert check_wording(book) == []


ALL = {"halden-finch", "ostrel-plover", "pemberley-drover", "quillon-tarn", "sorrelby-wren"}
TWO_BANKS = {"quillon-tarn", "sorrelby-wren"}
SERVED = {
    "air-sensors": ALL,
    "catalyst-efficiency": ALL,
    "catalyst-replacement": ALL,
    "charge-air": {"ostrel-plover"},
    "coil-and-injector-circuits": ALL,
    "crankcase-ventilation": ALL,
    "direct-injection": {"ostrel-plover"},
    "egr-electric": {"quillon-tarn"},
    "egr-vacuum": {"halden-finch", "pemberley-drover"},
    "evaporative-leak": ALL,
    "evaporative-purge": ALL,
    "evaporative-vent-pump": {"pemberley-drover", "sorrelby-wren"},
    "inspection-readiness": ALL,
    "intake-runner-control": {"sorrelby-wren"},
    "lean-mixture": ALL,
    "misfire-first-aid": ALL,
    "monitor-not-complete": ALL,
    "oxygen-sensor-heater": ALL,
    "oxygen-sensor-response": ALL,
    "rich-mixture": ALL,
    "secondary-air-belt": {"pemberley-drover"},
    "secondary-air-electric-valve": {"quillon-tarn"},
    "secondary-air-vacuum-valve": {"halden-finch"},
    "thermostat-warm-up": ALL,
    "throttle-and-idle": ALL,
    "vacuum-supply": {"halden-finch", "pemberley-drover"},
    "valve-timing": ALL,
    "wide-band-sensors": TWO_BANKS | {"ostrel-plover"},
}


def test_each_procedure_serves_its_vehicles(book: Book) -> None:
    found = {
        name: {car.id for car in book.matches(source)} for name, source in book.procedures.items()
    }
    assert found == SERVED


def test_a_car_stores_the_codes_of_its_own_banks_and_cylinders_only(book: Book) -> None:
    """Bank and cylinder are in the title of the code (SAE J2012)."""
    cylinders = dict.fromkeys(ALL, 6) | {"halden-finch": 4, "ostrel-plover": 4}
    for source in book.procedures.values():
        for vehicle in book.matches(source):
            for code in CarProcedure(source, vehicle).codes:
                found = re.search(r"bank (\d)|Cylinder (\d+)|$", title(code))
                assert found is not None
                bank, cylinder = found.groups()
                assert int(bank or 1) <= (2 if vehicle.id in TWO_BANKS else 1), (
                    source.id,
                    code,
                )
                assert int(cylinder or 1) <= cylinders[vehicle.id], (source.id, code)


def test_each_code_leads_to_a_car_that_stores_it(book: Book) -> None:
    for source in book.procedures.values():
        stored = {c for car in book.matches(source) for c in CarProcedure(source, car).codes}
        assert stored == set(source.data.codes), source.id


SHORT = 12
"""Most words of a line that two procedures may both have."""


def test_no_text_stands_in_two_procedures(book: Book) -> None:
    """What several say at length is one piece in `procedures/shared`."""
    places: dict[str, set[str]] = {}
    for source in book.procedures.values():
        for section in source.sections:
            for line in section.text.splitlines():
                words = re.sub(
                    r"{{.*?}}", "figure", re.sub(r"^\s*(\d+\.|[-*])\s*", "", line)
                ).split()
                if len(words) > SHORT:
                    places.setdefault(" ".join(words), set()).add(source.id)
    assert {text: names for text, names in places.items() if len(names) > 1} == {}


RIGHT = 0.9
"""Least share of simulated cars that a procedure ends rightly: repaired, or handed on where the
cause lies outside of it. Of the cars of one network two standard errors less may be."""

CARS = 100
"""Least number of simulated cars of a procedure."""

AGAIN = 150
"""Cars that are simulated anew."""


def test_simulated_cars_end_right_and_cheaper_than_by_guess(
    book: Book, simulated: SimulatedBook, capsys: pytest.CaptureFixture[str]
) -> None:
    """The figures that the pages quote; `baybook simulate` works them out.

    A plan starts with the opening of the job, which guesswork leaves out: where one part is most
    likely by far, guesswork can be the cheaper one. Over the whole book it is not.
    """
    with capsys.disabled():
        print("\nsimulated cars: right, minutes, money by plan | by guess | down the page")
    cars: Counter[str] = Counter()
    right: Counter[str] = Counter()
    spent = {"plan": 0.0, "guess": 0.0}
    for names, outcomes in sorted(table(book, simulated).items()):
        plan, guess, page = (outcomes[policy] for policy in ("plan", "guess", "page"))
        with capsys.disabled():
            print(f"  {names:58}{told(plan)} |{told(guess)} |{told(page)}")
        procedure = names.partition("/")[0]
        cars[procedure] += plan.cars
        right[procedure] += (plan.right + plan.honest) * plan.cars
        error = math.sqrt(RIGHT * (1 - RIGHT) / plan.cars)  # of a share: any textbook of statistics
        assert plan.right + plan.honest >= RIGHT - 2 * error, names
        spent["plan"] += plan.money
        spent["guess"] += guess.money
    assert {name for name, many in right.items() if many < RIGHT * cars[name]} == set()
    assert spent["plan"] <= spent["guess"]
    assert min(cars.values(), default=CARS) >= CARS


def table(book: Book, simulated: SimulatedBook) -> dict[str, dict[str, PolicyFigures]]:
    """Give what became of the cars, by procedure and cars of one network.

    A network that changed since has no figures until `baybook simulate` runs again, and its
    page shows none.
    """
    serves: dict[str, list[CarProcedure]] = {}
    for car in bind(book, simulated.labour_per_hour):
        if car.key in simulated.networks:
            serves.setdefault(car.key, []).append(car)
    return {
        f"{cars[0].source.id}/{', '.join(car.vehicle.id for car in cars)}": simulated.networks[
            key
        ].outcomes
        for key, cars in serves.items()
    }


def told(outcome: PolicyFigures) -> str:
    return f" {outcome.right:6.1%}{outcome.minutes:5.0f} min{outcome.money:5.0f}"


def test_the_kept_figures_are_those_of_the_engine(book: Book, simulated: SimulatedBook) -> None:
    """Of the smallest network some cars again: within three standard errors of the kept means."""
    found = {
        car.key: car.network
        for car in bind(book, simulated.labour_per_hour)
        if car.key in simulated.networks
    }
    for key in sorted(found, key=lambda name: size(found[name]))[:1]:
        hold(Model(from_data(found[key])), simulated.networks[key].outcomes)


def size(network: dict[str, Any]) -> int:
    return len(network["faults"]) * len(network["tests"])


def hold(model: Model, kept_outcomes: Mapping[str, PolicyFigures]) -> None:
    for name, policy in (("plan", by_plan), ("guess", by_guess)):
        kept = kept_outcomes[name]
        bay = Workshop(model, policy, seed=1)
        cars = [bay.work(bay.arrive()) for _ in range(AGAIN)]
        minutes = [car.minutes for car in cars]
        money = [car.minutes * model.network.rate + car.price for car in cars]
        for again, mean in ((minutes, kept.minutes), (money, kept.money)):
            error = stdev(again) * (1 / AGAIN + 1 / kept.cars) ** 0.5
            assert abs(fmean(again) - mean) < 3 * error, (name, fmean(again), mean, error)


def test_every_closed_job_of_the_demo_book_counts(root: Path, book: Book) -> None:
    """After a change of their procedures: python -m tests.invented_jobs."""
    folder = root / "docs" / "closed-jobs"
    networks = {car.fingerprint: car.network for car in bind(book, 130)}
    reader = SheetReader("baybook-demo", networks)
    schema = json.loads((root / "build/baybook/assets/bench-sheet.schema.json").read_text("utf-8"))
    published = jsonschema.validators.validator_for(schema)(schema)
    files = whole_folder(folder)
    assert len(files) == 300
    for file in files:
        read = reader.read(folder, file)
        assert read.why == ""
        assert len(read.jobs) == 1
        sheet = json.loads((folder / file).read_text("utf-8"))
        published.validate(sheet)
        assert "invented" in sheet["remarks"]
