"""The calculators in the browser: the same answers as CPython, addresses, refusals, no script."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

import pytest
from playwright.sync_api import Page, expect
from tests.browser.conftest import ROOT
from tests.calculator_examples import EXAMPLES

from baycalc import api

Address = Callable[[Path], str]

NAMES = sorted(path.stem for path in (ROOT / "calc/baycalc/calculators").glob("[a-z]*.py"))
NOTE_ANSWERS = """document.addEventListener("baybook:answer", (event) => {
    window.answered = event.detail;
});"""
ANSWERED = "() => window.answered"


@pytest.fixture
def listening_page(page: Page) -> Page:
    """A page that notes the last answer shown in `answered`."""
    page.add_init_script(NOTE_ANSWERS)
    return page


def answer_of(name: str, fields: dict[str, str]) -> Any:
    """Return the answer of CPython, as JSON carries it."""
    return json.loads(api.call(json.dumps({"method": "run", "name": name, "fields": fields})))


def shown(page: Page) -> dict[str, str]:
    """Return what a page shows: the value of each result by its id."""
    return dict(
        page.locator(".results [data-result]").evaluate_all(
            "found => found.map(each => [each.dataset.result, each.dataset.si])"
        )
    )


def expected(name: str, fields: dict[str, str]) -> dict[str, str]:
    """Return what a page has to show, as JavaScript writes values."""
    results = answer_of(name, fields)["results"]
    values = {result.id: results.get(result.id) for result in api.describe(name).results}
    return {key: as_script(value["si"]) if value else "" for key, value in values.items()}


def as_script(value: Any) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    return str(value)


def differences(one: dict[str, str], two: dict[str, str]) -> dict[str, Any]:
    """Return what is shown otherwise, numbers being equal however they are written."""
    return {
        key: (one.get(key), two.get(key))
        for key in one.keys() | two.keys()
        if one.get(key) != two.get(key) and number(one.get(key)) != number(two.get(key))
    }


def number(text: str | None) -> float:
    try:
        return float(text or "")
    except ValueError:
        return float("nan")


def fields_of(page: Page) -> dict[str, str]:
    """Return the fields of the page's form as they stand."""
    found = page.locator(".calculator-form [name]").evaluate_all(
        "found => found.map(e => [e.name, e.type === 'checkbox' ? String(e.checked) : e.value])"
    )
    return dict(found)


# -- the same in both Pythons ------------------------------------------------------------------


@pytest.mark.usefixtures("calculators")
def test_every_example_of_every_calculator_is_answered_as_in_cpython(
    page: Page, book_address: str
) -> None:
    page.goto(f"{book_address}calculators/barometer.html")
    requests = [
        {"method": "run", "name": name, "fields": dict(fields)}
        for name in NAMES
        for fields in ({}, *EXAMPLES[name])
    ]
    assert len(requests) > 200
    asked = "requests => Promise.all(requests.map((each) => baybook.python.call(each)))"
    answers = page.evaluate(asked, requests)
    for request, answer in zip(requests, answers, strict=True):
        assert answer == answer_of(request["name"], request["fields"]), request


# -- addresses ---------------------------------------------------------------------------------


@pytest.mark.usefixtures("calculators")
@pytest.mark.parametrize("name", NAMES)
def test_an_address_shows_what_cpython_computes_and_a_bad_field_leaves_it_standing(
    listening_page: Page, book_address: str, name: str
) -> None:
    page = listening_page
    fields = next(each for each in reversed(EXAMPLES[name]) if each)
    page.goto(f"{book_address}calculators/{name}.html?{urlencode(fields)}")
    page.wait_for_function(ANSWERED)
    assert_filled(fields_of(page), fields)
    assert differences(shown(page), expected(name, fields_of(page))) == {}
    before = shown(page)
    field = page.locator(".field:not([hidden]) input[type=text]").first
    called = field.get_attribute("name") or ""
    field.fill("?")
    error = page.locator(f".field[data-field={called}] .field-error")
    sentence = answer_of(name, fields_of(page))["errors"][called]
    expect(error).to_have_text(sentence)
    expect(page.locator(".calculator-state")).to_contain_text(
        "These results are for the last entries that could be used."
    )
    assert shown(page) == before


def assert_filled(fields: dict[str, str], given: dict[str, str]) -> None:
    """Check that a form holds what its address gave: "20 inHg" may stand as 20 and inHg."""
    for key, text in given.items():
        assert text in (fields[key], f"{fields[key]} {fields.get(f'{key}.unit')}"), key


@pytest.mark.usefixtures("calculators")
def test_a_link_hands_the_figures_over_to_another_calculator(
    listening_page: Page, book: Path, address_of: Address
) -> None:
    page = listening_page
    page.goto(f"{address_of(book)}calculators/vacuum_hold.html")
    page.locator("[name=end]").fill("15")
    page.wait_for_function("() => window.answered?.results.verdict.outcome === 'fail'")
    links = answer_of("vacuum_hold", fields_of(page))["links"]
    (carried,) = (link["fields"] for link in links if link["to"] == "leak_orifice")
    page.locator("a[data-to=leak_orifice]").click()
    page.wait_for_url("**/leak_orifice.html?**")
    page.wait_for_function(ANSWERED)
    assert_filled(fields_of(page), carried)
    assert differences(shown(page), expected("leak_orifice", fields_of(page))) == {}


@pytest.mark.usefixtures("calculators")
def test_a_link_goes_when_there_is_nothing_to_hand_over(
    listening_page: Page, book_address: str
) -> None:
    page = listening_page
    page.goto(f"{book_address}calculators/vacuum_hold.html")
    expect(page.locator("a[data-to=leak_orifice]")).to_have_count(1)
    page.locator("[name=end]").fill("20")  # no fall, no leak
    page.wait_for_function(ANSWERED)
    expect(page.locator("a[data-to=leak_orifice]")).to_have_count(0)
    page.locator("[name=end]").fill("19")
    expect(page.locator("a[data-to=leak_orifice]")).to_have_count(1)


# -- refusals ----------------------------------------------------------------------------------


@pytest.mark.usefixtures("calculators")
def test_a_figure_that_cannot_be_gets_its_sentence_and_the_next_entry_an_answer(
    listening_page: Page, book_address: str
) -> None:
    page = listening_page
    page.goto(f"{book_address}calculators/vacuum_units.html")
    reading = page.locator("[name=reading]")
    error = page.locator("[data-field=reading] .field-error")
    for text, sentence in [
        ("", "Missing: type a number."),
        ("20 V", "“V” is a unit of voltage"),
        ("9" * 400, "too long for a reading: 40 digits at most."),
        ("inf", "“inf” is not a finite number."),
        ("31", "No vacuum can be deeper than the air pressure here, 29.92 inHg"),
    ]:
        reading.fill(text)
        expect(error).to_contain_text(sentence)
        expect(reading).to_have_attribute("aria-errormessage", error.get_attribute("id") or "")
    reading.fill("20")
    expect(error).to_be_hidden()
    expect(page.locator(".calculator-state")).to_have_text("")
    assert differences(shown(page), expected("vacuum_units", fields_of(page))) == {}


@pytest.mark.usefixtures("calculators", "errors_expected")
def test_a_calculator_that_cannot_start_says_why_and_keeps_its_built_in_answer(
    page: Page, book_address: str
) -> None:
    page.route("**/assets/runtime/*.js", lambda route: route_only_client(route))
    page.goto(f"{book_address}calculators/fuse.html")
    expect(page.locator(".calculator-state")).to_contain_text("The calculator cannot start here (")
    expect(page.locator(".calculator-state")).to_contain_text("The answer shown was built in.")
    assert differences(shown(page), expected("fuse", {})) == {}


def route_only_client(route: Any) -> None:
    """Let the client through, and nothing that it would load."""
    if route.request.url.endswith("/python.js"):
        route.continue_()
    else:
        route.abort()


# -- the two ways to start, and none -----------------------------------------------------------


@pytest.mark.usefixtures("calculators")
@pytest.mark.parametrize("address_of", ["file"], indirect=True)
def test_a_calculator_works_when_python_starts_the_plain_way(
    listening_page: Page, book: Path, address_of: Address
) -> None:
    page = listening_page
    page.goto(f"{address_of(book)}calculators/voltage_drop.html?runtime=plain")
    first = page.locator(".field:not([hidden]) input[type=text]").first
    first.fill("7")
    page.wait_for_function(ANSWERED)
    expect(page.locator(".calculator")).to_have_attribute("data-python", "plain")
    assert differences(shown(page), expected("voltage_drop", fields_of(page))) == {}


@pytest.mark.usefixtures("calculators")
def test_without_script_the_first_answer_stands_in_every_page(
    new_page: Callable[..., Page], book: Path
) -> None:
    page = new_page(java_script_enabled=False)
    for name in NAMES:
        page.goto(f"{book.as_uri()}/calculators/{name}.html")
        assert differences(shown(page), expected(name, {})) == {}, name
        text = page.locator("main").inner_text()
        assert "getting ready" not in text
        assert "cannot start" not in text


def test_a_page_without_a_calculator_does_not_load_python(page: Page, book_address: str) -> None:
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    for uri in ("index.html", "calculators/index.html", "vehicles/halden-finch.html"):
        page.goto(f"{book_address}{uri}", wait_until="networkidle")
    loaded = {url.rsplit("/", 1)[1] for url in asked if "/assets/runtime/" in url}
    assert loaded == {"python.js"}  # the client, nothing else


@pytest.mark.usefixtures("calculators")
def test_the_built_in_figures_follow_the_unit_switch_and_entries_keep_their_unit(
    listening_page: Page, book_address: str
) -> None:
    page = listening_page
    page.goto(f"{book_address}calculators/vacuum_hold.html")
    start = page.locator("[name=start]")
    expect(start).to_have_value("20")
    page.locator("[data-turn-units]").click()
    expect(start).to_have_value("67.7")  # 20 inHg are 67.73 kPa (NIST SP 811, B.8), rounded
    expect(page.locator("[name='start.unit']")).to_have_value("kPa")
    drop = page.locator("[data-result=drop] .quantity")
    expect(drop).to_contain_text("kPa (")
    page.locator("[name=end]").fill("60")
    page.wait_for_function("() => window.answered?.results.verdict.outcome === 'fail'")
    page.locator("[data-turn-units]").click()
    expect(page.locator("[name=end]")).to_have_value("60")  # it stays as it was typed
    expect(page.locator("[name='end.unit']")).to_have_value("kPa")
    expect(start).to_have_value("20")
    expect(page.locator("[name='start.unit']")).to_have_value("inHg")
    expect(drop).to_contain_text("inHg (")


def test_a_choice_shows_the_fields_that_belong_to_it(page: Page, book_address: str) -> None:
    page.goto(f"{book_address}calculators/vacuum_hold.html")
    drop, leak = (page.locator(f"[data-field={name}]") for name in ("allowed_drop", "allowed_leak"))
    expect(drop).to_be_visible()
    expect(leak).to_be_hidden()
    page.locator("[name=limit_by]").select_option("leak")
    expect(drop).to_be_hidden()
    expect(leak).to_be_visible()


def test_a_calculation_that_runs_away_is_stopped_and_the_form_goes_on(
    listening_page: Page, book_address: str
) -> None:
    page = listening_page
    page.goto(f"{book_address}calculators/vacuum_hold.html")
    page.locator("[name=end]").fill("19")
    page.wait_for_function(ANSWERED)
    # No calculator of the book runs away: the form is told so of one (see test_runtime.py).
    page.evaluate(
        """() => {
            const call = baybook.python.call;
            baybook.python.call = async function () {
                baybook.python.call = call;
                throw new Error("The calculation took longer than 9 s and was stopped.");
            };
        }"""
    )
    page.locator("[name=end]").fill("18")
    expect(page.locator(".calculator-state")).to_contain_text("longer than 9 s and was stopped")
    page.locator("[name=end]").fill("12")
    page.wait_for_function("() => window.answered.results.verdict.outcome === 'fail'")
    expect(page.locator(".calculator-state")).to_have_text("")


def test_a_calculation_that_is_always_too_long_is_not_asked_for_without_end(
    listening_page: Page, book_address: str
) -> None:
    page = listening_page
    page.goto(f"{book_address}calculators/vacuum_units.html")
    page.wait_for_function("baybook.python.status === 'ready'")
    page.evaluate("""() => {
        const call = baybook.python.call;
        window.calls = 0;
        baybook.python.call = function (request, options) {
            window.calls += 1;
            return call.call(baybook.python, request, { ...options, limit: 0 });
        };
    }""")
    page.locator("[name=reading]").fill("7")
    page.wait_for_function("window.calls >= 2")
    page.wait_for_function("baybook.python.status === 'ready'")
    expect(page.locator(".calculator-state")).to_have_text(
        "The calculation took longer than 0 s and was stopped. "
        "These results are for the last entries that could be used."
    )
    expect(page.locator(".results-paused")).to_have_count(1)
    assert page.evaluate("window.calls") <= 3  # the first may still be that of the page's start


@pytest.mark.parametrize(
    ("query", "said"),
    [
        ("reading=20&reading.unit=furlong", "Not used from the address: reading.unit=furlong."),
        ("reading=20&reading.unit=__proto__", "reading.unit=__proto__."),
        ("reference=toString", "reference=toString."),
    ],
)
def test_what_an_address_asks_for_and_nothing_knows_is_said_and_not_used(
    listening_page: Page, book_address: str, query: str, said: str
) -> None:
    page = listening_page
    page.goto(f"{book_address}calculators/vacuum_units.html?{query}")
    page.wait_for_function(ANSWERED)
    expect(page.locator(".calculator-state")).to_contain_text(said)
    assert all(text for name, text in fields_of(page).items() if name.endswith(".unit"))
    page.locator("[name=reading]").fill("19")
    expect(page.locator(".calculator-state")).to_have_text("")


@pytest.mark.usefixtures("calculators", "errors_expected")
def test_without_its_script_the_built_in_answer_stands_and_the_page_says_so(
    page: Page, book_address: str
) -> None:
    page.route("**/python.js", lambda route: route.abort())
    page.goto(f"{book_address}calculators/fuse.html")
    expect(page.locator(".calculator-state")).to_have_text(
        "The calculator cannot start here (its script python.js is missing). "
        "The answer shown was built in."
    )
    assert differences(shown(page), expected("fuse", {})) == {}
