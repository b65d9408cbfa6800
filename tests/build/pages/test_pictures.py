"""Pictures, files, pins and torques: described, scaled, and led to from where they are used."""

from pathlib import Path

import pytest
from PIL import Image

from baybook.book.car import CarProcedure
from baybook.book.checks.check_book import check_book
from baybook.book.equipment import variants
from baybook.book.files import used_files
from baybook.book.sources.load import load_book
from baybook.pages.body import BodyWriter
from baybook.pages.pictures import file_uri, scaled_files, sizes_of
from baycalc.forms.declare import Calculator

CAMERA = 0x0110
TURNED = 0x0112


@pytest.fixture
def folder(book_folder: Path, calculators: dict[str, Calculator]) -> Path:
    assert calculators
    folder = book_folder / "procedures"
    (folder / "img").mkdir()
    exif = Image.Exif()
    exif[CAMERA], exif[TURNED] = "A camera", 6
    Image.new("RGB", (1200, 2400), "gray").save(folder / "img" / "bay.jpg", exif=exif)
    Image.new("RGB", (40, 30), "gray").save(folder / "img" / "neck.png")
    (folder / "img" / "plan.pdf").write_bytes(b"%PDF-" + b" " * 300_000)
    car = folder / "vehicles" / "car.yml"
    car.write_text(
        car.read_text("utf-8")
        + "  pump-bolts: {says: Bolts of the pump, value: 15 lb-ft}\n"
        + "connectors:\n  c-pump:\n    says: Connector of the pump\n    where: behind the pump\n"
        + "    pins:\n      1: {wire: brown/white, to: ground, carries: 0 V}\n",
        "utf-8",
    )
    return folder


def write(folder: Path, text: str, front: str = "") -> str:
    """Return the HTML of a text of the small book, which has no mistake."""
    path = folder / "air.md"
    source = path.read_text("utf-8").replace("A pump blows air through a valve.", text)
    path.write_text(source.replace("sources:\n", f"{front}sources:\n", 1), "utf-8")
    book = load_book(folder)
    assert [str(each) for each in check_book(book, {}) if each.severity == "error"] == []
    (variant,) = variants(book)
    car = CarProcedure(variant.source, variant.cars[0])
    section = variant.source.section("how-it-works")
    assert section
    return str(BodyWriter(variant, car, book).write(section.text))


def test_a_picture_has_words_size_and_caption(folder: Path) -> None:
    html = write(folder, '{{ picture("img/neck.png", "A neck", "The <neck>.") }}')
    assert '<img src="../../files/img/neck.png" alt="A neck" width="40" height="30"' in html
    assert "<figcaption>The &lt;neck&gt;." in html
    assert "srcset" not in html


def test_a_large_picture_is_scaled_and_turned_and_forgets_the_camera(folder: Path) -> None:
    html = write(folder, '{{ picture("img/bay.jpg", "A bay") }}')
    assert 'srcset="../../files/img/bay-800.jpg 800w, ../../files/img/bay-1600.jpg 1600w"' in html
    assert 'src="../../files/img/bay-1600.jpg" alt="A bay" width="1600" height="800"' in html
    shipped = scaled_files([("img/bay.jpg", folder / "img" / "bay.jpg")], folder.parent / "cache")
    assert list(shipped) == ["files/img/bay-800.jpg", "files/img/bay-1600.jpg"]
    for width, path in zip((800, 1600), shipped.values(), strict=True):
        with Image.open(path) as picture:
            assert picture.size == (width, width // 2)
            assert CAMERA not in picture.getexif()


def test_a_small_picture_ships_as_it_is(folder: Path) -> None:
    path = folder / "img" / "neck.png"
    assert sizes_of("img/neck.png", path) == {file_uri("img/neck.png"): 40}
    assert scaled_files([("img/neck.png", path)], folder.parent) == {"files/img/neck.png": path}


def test_parts_are_marked_on_a_picture(folder: Path) -> None:
    front = (
        "pictures:\n  bay:\n    file: img/neck.png\n    alt: The bay\n"
        "    marks: {valve: [20, 30], pump: [60.5, 70]}\n"
    )
    html = write(folder, '{{ picture("bay") }}', front)
    assert '<b class="picture-mark" style="left: 20.0%; top: 30.0%" title="valve">1</b>' in html
    assert "<b>2</b> pump" in html


def test_links_lead_from_the_page_to_what_the_source_means(folder: Path) -> None:
    html = write(
        folder,
        "![A neck](img/neck.png) [plan](img/plan.pdf) [tests](air.md#tests) [hold](#hold) "
        '[law](https://law.example) [page](/about.html)\n\n<img src="img/neck.png" alt="N">\n\n'
        "```\n![x](img/neck.png)\n```\n",
    )
    assert html.count('src="../../files/img/neck.png"') == 2
    assert 'href="../../files/img/plan.pdf"' in html
    assert 'href="index.html#tests"' in html
    assert 'href="#hold"' in html
    assert 'href="https://law.example"' in html
    assert 'href="../../about.html"' in html
    assert "![x](img/neck.png)" in html


def test_a_file_is_offered_with_its_size(folder: Path) -> None:
    html = write(folder, '{{ file("img/plan.pdf", "The wiring") }}')
    assert '<a class="file" href="../../files/img/plan.pdf">The wiring</a>' in html
    assert "(0.3 MB)" in html
    assert used_files(load_book(folder)) == {"img/plan.pdf"}


def test_a_file_of_a_shared_text_is_used_too(folder: Path) -> None:
    (folder / "shared").mkdir(exist_ok=True)
    (folder / "shared" / "law.md").write_text('{{ file("../img/plan.pdf", "Plan") }}\n')
    assert used_files(load_book(folder)) == {"img/plan.pdf"}


def test_pins_and_torques_are_tables(folder: Path) -> None:
    html = write(folder, '{{ pins("c-pump") }}\n\n{{ torques("pump-bolts") }}')
    assert "<caption>Connector of the pump, behind the pump</caption>" in html
    row = '<th scope="row">1</th><td>brown/white</td><td>ground</td><td>0 V</td>'
    assert row in html
    assert '<th scope="row">Bolts of the pump</th><td><span class="figure"' in html


def test_a_picture_inside_a_step_stays_in_it(folder: Path) -> None:
    html = write(folder, '1. Look.\n\n    {{ picture("img/neck.png", "A neck") }}\n\n2. Go on.')
    assert html.count("<ol>") == 1
    assert html.index("<figure") < html.index("Go on")
