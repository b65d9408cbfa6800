"""A vehicle's page: its figures in both unit systems, and the procedures that serve it."""

from baybook.book.compiled import CompiledBook
from baybook.pages.vehicle import vehicle_pages


def test_figures_and_procedures(small_book: CompiledBook) -> None:
    landing, page = vehicle_pages(small_book)
    assert '<a href="car.html">Invented car</a>' in landing.text
    assert (page.uri, page.title) == ("vehicles/car.md", "Invented car")
    text = page.text
    assert "invented car, invented figures" in text
    assert '<a href="../procedures/air/work.html?car=car">Air pump</a>' in text
    assert (
        '<td>Fuse of the pump</td><td><span class="quantity">40 A</span>, under the hood</td>'
        in text
    )
    # 18 inHg are 60.955 kPa by 3386.389 Pa to the inHg (NIST SP 811, B.8).
    assert 'at least <span class="quantity" data-us="18 inHg" data-metric="61 kPa">' in text


def test_a_car_lists_only_what_serves_it(demo_book: CompiledBook) -> None:
    pages = {page.uri: page.text for page in vehicle_pages(demo_book)}
    names = demo_book.page_names()
    for name in demo_book.sources.vehicles:
        for procedure in demo_book.sources.procedures:
            page = names.get((procedure, name), "?")
            listed = (
                f"/procedures/{procedure}/{page}.html?car={name}" in pages[f"vehicles/{name}.md"]
            )
            assert listed == ((procedure, name) in names)
