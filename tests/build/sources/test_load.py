"""Sources on disk: which files count, how bodies fall into sections, what the shared file adds."""

from pathlib import Path

import pytest

from baybook.book.sources.load import load_book
from baybook.book.sources.sections import sections_of, text_before_sections

BODY = """
## How it works {#how-it-works}

Text with a #hash.

```sh
## no heading {#code}
```

~~~
```
## none either
~~~

### Under it {#under}
#### Deeper

More.
## Tests {#tests}
"""


def test_a_body_falls_into_sections() -> None:
    found = sections_of(BODY, 10)
    assert [(each.id, each.title, each.level, each.line) for each in found] == [
        ("how-it-works", "How it works", 2, 11),
        ("under", "Under it", 3, 24),
        ("tests", "Tests", 2, 28),
    ]
    rows = BODY.split("\n")
    for section in found:
        if section.text:
            first = section.text.split("\n")[0]
            assert rows[section.text_line - 10] == first
    assert found[1].text == "#### Deeper\n\nMore."
    assert found[2].text == ""


def test_text_before_the_first_heading_is_found() -> None:
    assert text_before_sections(BODY, 10) == 0
    assert text_before_sections("\n\nHello\n## A {#a}", 10) == 12


def test_a_book_is_read(book_folder: Path) -> None:
    book = load_book(book_folder / "procedures")
    assert book.problems == []
    assert list(book.vehicles) == ["car"]
    assert book.shared_texts == {"battery-off": "1. Take the negative cable off.\n"}
    air = book.procedures["air"]
    assert [section.id for section in air.under("tests")] == ["hold", "runs"]
    assert [car.id for car in book.matches(air)] == ["car"]


def test_used_pieces_of_the_shared_file_are_filled_in(book_folder: Path) -> None:
    data = load_book(book_folder / "procedures").procedures["air"].data
    assert list(data.tools) == ["pump"]
    assert list(data.setups) == ["idle"]
    assert [message.hazard for message in data.safety] == ["Exhaust gas."]


@pytest.mark.parametrize("form", ["\r\n", "bom"])
def test_line_ends_and_byte_order_mark_of_other_systems_do_not_matter(
    book_folder: Path, form: str
) -> None:
    path = book_folder / "procedures" / "air.md"
    plain = load_book(book_folder / "procedures").procedures["air"]
    text = path.read_text("utf-8")
    text = "\ufeff" + text if form == "bom" else text.replace("\n", form)
    path.write_bytes(text.encode())
    assert load_book(book_folder / "procedures").procedures["air"] == plain


def test_a_vehicle_without_what_is_needed_is_not_served(book_folder: Path) -> None:
    vehicles = book_folder / "procedures" / "vehicles"
    text = (vehicles / "car.yml").read_text("utf-8")
    (vehicles / "bare.yml").write_text(text.replace("[air-pump]", "[]"), "utf-8")
    book = load_book(book_folder / "procedures")
    assert [car.id for car in book.matches(book.procedures["air"])] == ["car"]


def test_a_folder_without_procedures_is_a_mistake(tmp_path: Path) -> None:
    assert [str(problem) for problem in load_book(tmp_path / "sources").problems] == [
        "sources: expected a folder with procedures (*.md), got none\n"
        "    hint: `baybook new procedure NAME` writes a skeleton"
    ]


def test_a_file_that_cannot_be_opened_is_told(book_folder: Path) -> None:
    (book_folder / "procedures" / "folder.md").mkdir()
    assert [str(problem) for problem in load_book(book_folder / "procedures").problems] == [
        "procedures/folder.md: expected a file that can be read, got Is a directory"
    ]
