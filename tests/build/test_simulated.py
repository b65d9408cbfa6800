"""Figures of simulated cars stand for one network, and are kept beside the sources."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import msgspec
import pytest

from baybook.book.bound import bind, network_key
from baybook.book.simulated import (
    FILE,
    SimulatedBook,
    check_simulated,
    kept_figures,
    read_simulated,
    simulate,
    write_simulated,
)
from baybook.book.sources.load import load_book
from baycalc import isolation


@pytest.fixture
def folder(book_folder: Path) -> Path:
    return book_folder / "procedures"


def network_in(folder: Path, labour_per_hour: float = 60.0) -> Any:
    return bind(load_book(folder), labour_per_hour)[0].network


def changed(folder: Path, old: str, new: str) -> Any:
    path = folder / "air.md"
    text = path.read_text("utf-8")
    assert text.count(old) == 1
    path.write_text(text.replace(old, new), "utf-8")
    return network_in(folder)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("often: 2", "often: 3"),
        ("minutes: 5", "minutes: 6"),
        ("shows: {pump-dead: 0.9}", "shows: {pump-dead: 0.8}"),
        ("after: [hold]", "after: []"),
        ("repair: {minutes: 20,", "repair: {minutes: 20, price: 9,"),
        ("{chance: 0.4}", "{chance: 0.4, later: 0.1}"),
    ],
)
def test_the_key_changes_with_what_is_reckoned_with(folder: Path, old: str, new: str) -> None:
    before = network_key(network_in(folder))
    assert network_key(changed(folder, old, new)) != before


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("title: Hold", "title: Hold it"),
        ("says: leaks", "says: lets air by"),
        ("asks: Does the pump run?", "asks: Is the pump heard?"),
    ],
)
def test_the_key_does_not_change_with_the_wording(folder: Path, old: str, new: str) -> None:
    before = network_key(network_in(folder))
    assert network_key(changed(folder, old, new)) == before


def test_the_key_changes_with_the_price_of_labour(folder: Path) -> None:
    assert network_key(network_in(folder)) != network_key(network_in(folder, 90.0))


def test_the_figures_are_those_of_fault_isolation(folder: Path) -> None:
    data = network_in(folder)
    found = simulate(data, ("air/car",), cars=40, seed=3)
    outcomes = isolation.simulation(data, cars=40, seed=3)
    figures = isolation.figures(data)
    kinds = {"plan", "guess", "page", "outside", "good"}
    assert set(found.outcomes) == set(outcomes) == kinds
    assert {found.outcomes[policy].cars for policy in ("plan", "guess", "page")} == {40}
    for policy in kinds:
        assert found.outcomes[policy].cars == outcomes[policy]["cars"] > 0
        assert found.outcomes[policy].right == pytest.approx(outcomes[policy]["right"])
        assert found.outcomes[policy].minutes == pytest.approx(outcomes[policy]["minutes"], 1e-4)
    assert found.figures.dearest == figures["dearest"]
    assert [each.fault for each in found.figures.faults] == ["pump-dead", "valve-leaks"]


def test_what_is_written_is_read_again(folder: Path) -> None:
    data = network_in(folder)
    kept = SimulatedBook(75.0, {network_key(data): simulate(data, ("air/car",), 5, 0)})
    assert write_simulated(folder, kept) == folder / FILE
    assert read_simulated(folder) == kept == kept_figures(folder)


def test_a_folder_without_figures(folder: Path) -> None:
    assert read_simulated(folder) is None
    assert kept_figures(folder) == SimulatedBook()
    assert check_simulated(bind(load_book(folder)), folder) == []


@pytest.mark.parametrize(
    "text", ["", "{", "[]", '{"networks": {"a": 1}}', '{"labour_per_hour": "x"}']
)
def test_a_damaged_file_is_told_and_left_out(folder: Path, text: str) -> None:
    (folder / FILE).write_text(text)
    with pytest.raises(msgspec.MsgspecError):
        read_simulated(folder)
    assert kept_figures(folder) == SimulatedBook()
    (problem,) = check_simulated(bind(load_book(folder)), folder)
    assert problem.severity == "warning"
    assert str(problem).startswith(
        "procedures/simulated.json: warning: expected figures of simulated cars, "
        "got a damaged file: "
    )


def test_figures_are_old_once_the_network_changes(
    folder: Path, edit: Callable[[str, str], None]
) -> None:
    data = network_in(folder, 75.0)
    figures = simulate(data, ("air/car",), 5, 0)
    write_simulated(folder, SimulatedBook(75.0, {network_key(data): figures}))
    assert check_simulated(bind(load_book(folder)), folder) == []
    edit("often: 2", "often: 3")
    assert [str(problem) for problem in check_simulated(bind(load_book(folder)), folder)] == [
        "procedures/simulated.json: warning: air: expected figures of the procedure as it is "
        "now, got none for car\n    hint: `baybook simulate` works the figures out anew"
    ]


@pytest.fixture
def edit(folder: Path) -> Callable[[str, str], None]:
    return lambda old, new: changed(folder, old, new)
