"""`baybook simulate`: what is old is worked out, what is not is kept."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import yaml

from baybook.book.simulated import FILE, kept_figures
from baybook.cli import main
from baybook.verbs import simulate


@pytest.fixture
def folder(book_folder: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The sources of a small book; its configuration stands in the working folder."""
    (book_folder / "mkdocs.yml").write_text("site_name: x\nplugins: [baybook]\n")
    monkeypatch.chdir(book_folder)
    return book_folder / "procedures"


def edit(folder: Path, old: str, new: str) -> None:
    path = folder / "air.md"
    path.write_text(path.read_text("utf-8").replace(old, new), "utf-8")


def test_figures_are_worked_out_and_kept(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["simulate", "--cars", "50"]) == 0
    said = capsys.readouterr().out.splitlines()
    assert said[0] == "1 network, 1 to work out"
    assert said[1].startswith("air/car: ")
    assert said[2] == f"wrote {folder / FILE}"
    kept = kept_figures(folder)
    (found,) = kept.networks.values()
    assert kept.labour_per_hour == 60.0
    assert (found.serves, found.outcomes["plan"].cars) == (("air/car",), 50)
    assert main(["check", "--strict"]) == 0


def test_what_was_worked_out_stands_though_the_rest_was_stopped(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole = simulate._work_out

    def stopped(*given: Any) -> Iterator[Any]:
        yield from whole(*given)
        raise KeyboardInterrupt

    monkeypatch.setattr(simulate, "_work_out", stopped)
    assert main(["simulate", "--cars", "20"]) != 0
    assert len(kept_figures(folder).networks) == 1


@pytest.mark.usefixtures("folder")
def test_one_car_is_the_least(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["simulate", "--cars", "1"]) == 0
    assert main(["simulate", "--cars", "0"]) == 2
    assert "expected at least one car, got 0" in capsys.readouterr().err


def test_what_is_not_old_is_kept(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["simulate", "--cars", "20"])
    first = (folder / FILE).read_bytes()
    capsys.readouterr()
    assert main(["simulate", "--cars", "30"]) == 0
    assert capsys.readouterr().out.splitlines()[0] == "1 network, 0 to work out"
    assert (folder / FILE).read_bytes() == first
    assert main(["simulate", "--cars", "30", "--again"]) == 0
    (found,) = kept_figures(folder).networks.values()
    assert found.outcomes["guess"].cars == 30


def test_what_is_old_goes(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["simulate", "--cars", "20"])
    (old,) = kept_figures(folder).networks
    edit(folder, "often: 2", "often: 5")
    assert main(["check"]) == 0
    assert "expected figures of the procedure as it is now" in capsys.readouterr().out
    assert main(["simulate", "air", "--cars", "20"]) == 0
    assert len(kept_figures(folder).networks.keys() - {old}) == 1
    assert main(["check", "--strict"]) == 0


def test_the_cars_of_a_procedure_are_shared_out(folder: Path) -> None:
    car = folder / "vehicles" / "car.yml"
    data = yaml.safe_load(car.read_text("utf-8"))
    (folder / "vehicles" / "twin.yml").write_text(yaml.safe_dump(data))
    other = data | {"has": [*data["has"], "clutch"]}
    (folder / "vehicles" / "other.yml").write_text(yaml.safe_dump(other))
    edit(folder, "often: 1", "often: 1\n    when: [clutch]")
    assert main(["simulate", "--cars", "31"]) == 0
    kept = kept_figures(folder).networks.values()
    assert {each.serves for each in kept} == {("air/car", "air/twin"), ("air/other",)}
    assert [each.outcomes["plan"].cars for each in kept] == [16, 16]


def test_labour_is_that_of_the_configuration(folder: Path) -> None:
    config = "site_name: x\nplugins:\n  - baybook: {labour_per_hour: 90}\n"
    Path("mkdocs.yml").write_text(config)
    assert main(["simulate", "--cars", "5"]) == 0
    assert kept_figures(folder).labour_per_hour == 90.0


def test_wrong_sources_are_not_simulated(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    edit(folder, "often: 2", "often: many")
    assert main(["simulate"]) == 1
    assert "expected a number, got the text many" in capsys.readouterr().err
    assert not (folder / FILE).exists()


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["airr"], "baybook: expected a procedure, got airr\n    hint: did you mean air?\n"),
        (["--cars", "0"], "baybook: expected at least one car, got 0\n"),
    ],
)
def test_a_wrong_command_line(
    words: list[str], said: str, folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["simulate", *words]) == 2
    assert capsys.readouterr().err == said
    assert not (folder / FILE).exists()
