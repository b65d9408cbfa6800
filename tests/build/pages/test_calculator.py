"""The form of every calculator and its first answer, as its declaration says."""

from typing import Any
from xml.etree import ElementTree

import pytest
from markupsafe import escape

from baybook.book.pint_quantities import unit_table
from baybook.pages.calculator import calculator_pages, form_html, sources_html
from baycalc import api
from baycalc.forms.declare import Calculator, Choice, Flag, Quantity, RecordInput, Source, Text
from baycalc.forms.groups import GROUPS

Forms = dict[str, ElementTree.Element]
PAGE = "calculators/some.md"
VOID = ("input", "br", "img")


def parsed(markup: str) -> ElementTree.Element:
    """Read HTML that is written as XML but for empty elements and bare attributes."""
    markup = str(markup)  # or it would escape what is put in
    for name in VOID:
        markup = markup.replace(f"<{name} ", f"<{name}-void ")
    return ElementTree.fromstring(f"<root>{closed(markup)}</root>")


def closed(markup: str) -> str:
    """Close empty elements and give bare attributes a value."""
    for bare in ("hidden", "novalidate", "checked", "selected"):
        markup = markup.replace(f" {bare}>", f' {bare}="">').replace(f" {bare} ", f' {bare}="" ')
    parts = markup.split("-void ")
    return parts[0] + "".join("-void " + part.replace(">", "/>", 1) for part in parts[1:])


def named(form: ElementTree.Element, name: str) -> list[ElementTree.Element]:
    return [each for each in form.iter() if each.get("name") == name]


@pytest.fixture(scope="module")
def forms(calculators: dict[str, Calculator]) -> Forms:
    """The form of every calculator with its defaults."""
    return {name: parsed(form_html(each, {}, PAGE)) for name, each in calculators.items()}


def test_every_input_has_its_field_and_label(
    calculators: dict[str, Calculator], forms: Forms
) -> None:
    for name, calculator in calculators.items():
        fields = [each for each in forms[name].iter() if each.get("data-field")]
        assert [each.get("data-field") for each in fields] == [
            each.id for group in GROUPS for each in calculator.inputs if each.group == group
        ]
        for declared in calculator.inputs:
            (entry,) = named(forms[name], declared.id)
            labels = [each for each in forms[name].iter("label") if each.get("for") == declared.id]
            assert entry.get("id") == declared.id
            assert [(each.text or "").strip() for each in labels] == [declared.label]


def test_a_quantity_has_a_unit_menu_with_the_units_declared(
    calculators: dict[str, Calculator], forms: Forms
) -> None:
    for name, calculator in calculators.items():
        for declared in calculator.inputs:
            found = named(forms[name], f"{declared.id}.unit")
            if not isinstance(declared, Quantity):
                assert found == []
                continue
            (menu,) = found
            options = [each.get("value") for each in menu.iter("option")] or [menu.get("value")]
            assert options == list(declared.units)


def test_choices_flags_and_texts_are_those_declared(
    calculators: dict[str, Calculator], forms: Forms
) -> None:
    for name, calculator in calculators.items():
        for declared in calculator.inputs:
            (entry,) = named(forms[name], declared.id)
            if isinstance(declared, Choice):
                options = list(entry.iter("option"))
                offered = [each.get("value") for each in options]
                chosen = [each.get("value") for each in options if "selected" in each.attrib]
                assert (offered, chosen) == (
                    [option.value for option in declared.options],
                    [declared.default],
                )
            elif isinstance(declared, Flag):
                assert entry.get("type") == "checkbox"
                assert ("checked" in entry.attrib) == declared.default
            elif isinstance(declared, RecordInput):
                assert (entry.tag, entry.text) == ("textarea", declared.default)
            elif isinstance(declared, Text):
                assert entry.get("value") == declared.default
                assert entry.get("maxlength") == str(declared.longest)


def test_a_default_stands_in_both_systems(calculators: dict[str, Calculator], forms: Forms) -> None:
    table = unit_table()
    for name, calculator in calculators.items():
        for declared in calculator.inputs:
            if not isinstance(declared, Quantity) or not declared.default:
                continue
            (entry,) = named(forms[name], declared.id)
            si = table.parse(declared.kind, declared.default, declared.units[0])
            for system in ("us", "metric"):
                shown = table.parse(
                    declared.kind,
                    entry.get(f"data-{system}") or "",
                    entry.get(f"data-unit-{system}"),
                )
                # As few digits as a person would write: see test_fields.
                assert shown == pytest.approx(si, rel=5e-3, abs=1e-12)


def test_every_result_has_its_place_with_the_value_of_cpython(
    calculators: dict[str, Calculator], forms: Forms
) -> None:
    for name, calculator in calculators.items():
        results = api.run(name, {})["results"]
        places = {
            each.get("data-result"): each
            for each in forms[name].iter()
            if each.get("data-result") is not None
        }
        assert set(places) == {result.id for result in calculator.results}
        for result in calculator.results:
            place = places[result.id]
            if result.id not in results:
                assert "hidden" in place.attrib
                continue
            assert place.get("data-si") == as_script(results[result.id]["si"])


def as_script(value: Any) -> str:
    return str(value).lower() if isinstance(value, bool) else str(value)


def test_a_table_holds_its_results_in_every_unit(
    calculators: dict[str, Calculator], forms: Forms
) -> None:
    results = api.run("vacuum_units", {})["results"]
    cells = {
        (each.get("data-cell"), int(each.get("data-place") or "")): each.text
        for each in forms["vacuum_units"].iter("td")
        if each.get("data-cell")
    }
    tabled = [result for result in calculators["vacuum_units"].results if result.table]
    assert len(tabled) > 1
    for result in tabled:
        for place, text in enumerate(results[result.id]["all"]):
            assert cells[(result.id, place)] == text


def test_fields_that_are_given_fill_the_form(calculators: dict[str, Calculator]) -> None:
    given = {"start": "60 kPa", "end": "58", "end.unit": "kPa", "limit_by": "leak"}
    form = parsed(form_html(calculators["vacuum_hold"], given, PAGE))
    (start,), (end,) = named(form, "start"), named(form, "end")
    assert (start.get("data-us"), start.get("data-metric")) == ("17.72", "60")
    # 3386.389 Pa to the inHg (NIST SP 811, B.8).
    assert float(end.get("value") or "") == pytest.approx(58_000 / 3386.389, rel=5e-4)
    hidden = [each.get("data-field") for each in form.iter() if "hidden" in each.attrib]
    assert "allowed_drop" in hidden
    assert "allowed_leak" not in hidden
    (link,) = (each for each in form.iter("a") if each.get("class") == "calculator-permalink")
    assert link.get("href") == ("vacuum_hold.html?start=60+kPa&end=58&end.unit=kPa&limit_by=leak")


def test_two_forms_on_one_page_keep_their_ids_apart(calculators: dict[str, Calculator]) -> None:
    forms = [
        parsed(form_html(calculators["fuse"], {}, "procedures/air/car.md", prefix))
        for prefix in ("one-", "two-")
    ]
    ids = [each.get("id") for form in forms for each in form.iter() if each.get("id")]
    assert len(ids) == len(set(ids)) > 20
    (entry,) = named(forms[0], "load")
    assert entry.get("id") == "one-load"
    (link,) = (each for each in forms[0].iter("a") if each.get("class") == "calculator-permalink")
    assert link.get("href") == "../../calculators/fuse.html"


def test_fields_that_are_not_accepted_are_refused(calculators: dict[str, Calculator]) -> None:
    with pytest.raises(ValueError, match=r"calculator fuse: \{'load': '“V” is a unit of voltage"):
        form_html(calculators["fuse"], {"load": "12 V"}, PAGE)


def test_every_calculator_has_its_page_and_its_line_in_the_index(
    calculators: dict[str, Calculator],
) -> None:
    index, *pages = calculator_pages()
    assert [page.uri for page in pages] == [f"calculators/{name}.md" for name in calculators]
    for calculator in calculators.values():
        link = f'<a href="{calculator.id}.html">{escape(calculator.title)}</a>'
        assert f"{link} {escape(calculator.summary)}" in index.text
        assert f"<h2>{calculator.job}</h2>" in index.text


def test_a_page_says_what_it_means_what_it_leaves_out_and_its_sources(
    calculators: dict[str, Calculator],
) -> None:
    pages = {page.uri: page.text for page in calculator_pages()}
    for name, calculator in calculators.items():
        text = pages[f"calculators/{name}.md"]
        for part in (calculator.meaning, calculator.leaves_out, *calculator.words):
            assert escape(part) in text
        assert text.count('<span class="standing') == len(calculator.sources)


def test_a_source_says_how_it_stands() -> None:
    sources = [Source(text="A & B"), Source(text="C", standing="memory")]
    sources.append(Source(text="D", standing="practice"))
    assert sources_html(sources) == (
        '<ul class="sources">\n'
        '<li>A &amp; B <span class="standing standing-published">published</span></li>\n'
        '<li>C <span class="standing standing-memory">from memory</span></li>\n'
        '<li>D <span class="standing standing-practice">common practice, no source</span></li>\n'
        "</ul>"
    )


def test_a_long_list_of_sources_is_folded_and_says_what_it_holds() -> None:
    sources = [Source(text=text) for text in "ABC"] + [Source(text="D", standing="memory")]
    assert "<details" not in sources_html(sources)
    folded = sources_html([*sources, Source(text="E", standing="practice")])
    assert folded.startswith(
        '<details class="sources-all"><summary>5 sources: 3 published; 1 from memory; '
        '1 common practice, no source</summary>\n<ul class="sources">\n'
    )
    assert folded.endswith("</ul>\n</details>")
