"""A procedure's pages: a front page, and one page for each car that it serves."""

import json
from pathlib import Path
from typing import Any

from markupsafe import Markup
from msgspec import UnsetType

from baybook.book.car import CarProcedure, gauge_si, is_figure
from baybook.book.codes import title as code_title
from baybook.book.load import Book, ProcedureSource, VehicleSource
from baybook.book.model import SYSTEMS, Embed, Observation, Test
from baybook.book.network import network
from baybook.pages.body import BodyWriter, between_html
from baybook.pages.calculator import form_html, sources_html, verdict_html
from baybook.pages.diagram import diagram_html
from baybook.pages.plan import plan_html
from baybook.pages.plans import plan_key, plans_of
from baybook.pages.render import environment, html, one_line
from baybook.pages.site import (
    SHEETS_URI,
    Page,
    Settings,
    href,
    procedure_uri,
    relative,
    vehicle_uri,
)
from baycalc import door
from baycalc.units import label

_AFTER_TESTS = (
    ("before-fitting", "Before fitting a part"),
    ("fitting", "Fitting"),
    ("proof", "Proving the repair"),
    ("meanwhile", "Driving it meanwhile"),
    ("lessons", "For a class"),
)


def procedure_pages(book: Book, settings: Settings, cache: Path) -> list[Page]:
    """Return the pages of all procedures; plans are kept in a folder between builds."""
    cars = [
        CarProcedure(source, vehicle)
        for source in book.procedures.values()
        for vehicle in book.matches(source)
    ]
    plans = plans_of((network(car, settings.labour_per_hour) for car in cars), cache / "plans")
    return [_front_page(source, book.matches(source)) for source in book.procedures.values()] + [
        _car_page(_PageWriter(car, book, settings, plans)) for car in cars
    ]


def _trail(source: ProcedureSource) -> tuple[str, ...]:
    return ("Procedures", source.data.title)


def _front_page(source: ProcedureSource, cars: list[VehicleSource]) -> Page:
    uri = procedure_uri(source.id)
    markdown = (
        environment()
        .get_template("procedure_front.md.j2")
        .render(
            data=source.data,
            system=SYSTEMS[source.data.system],
            codes={code: code_title(code) for code in source.data.codes},
            cars=[(car.data, relative(procedure_uri(source.id, car.id), uri)) for car in cars],
        )
    )
    return Page(uri, source.data.title, markdown, _trail(source))


def _car_page(writer: "_PageWriter") -> Page:
    name = writer.car.vehicle.data.name
    trail = _trail(writer.car.source)
    return Page(writer.page, name, writer.markdown(), trail, contents=False)


class _PageWriter:
    """Writes the page of one procedure for one car."""

    def __init__(
        self, car: CarProcedure, book: Book, settings: Settings, plans: dict[str, dict[str, Any]]
    ) -> None:
        self.car = car
        self.plans = plans
        self.network = network(car, settings.labour_per_hour)
        self.data = car.source.data
        self.book = book
        self.settings = settings
        self.body = BodyWriter(car, book)
        self.page = self.body.page

    def markdown(self) -> str:
        template = environment().get_template("procedure.md.j2")
        return template.render(
            title=f"{self.data.title}: {self.car.vehicle.data.name}",
            summary=self.data.summary,
            glance=self._glance(),
            bay=one_line(html("bay.html.j2", gauges=self._gauges())),
            safety=one_line(html("safety.html.j2", messages=self.data.safety)),
            how_it_works=self._section("how-it-works"),
            diagram=one_line(diagram_html(self.car)),
            codes=one_line(html("codes.html.j2", codes=self._codes())),
            plan=self._plan(),
            tests_intro=self._section("tests"),
            tests=[self._test(name, test) for name, test in self.car.tests.items()],
            sections=[
                {"id": name, "title": title, "text": self._section(name)}
                for name, title in _AFTER_TESTS
                if self.car.source.section(name)
            ],
            leads_on=self._leads_on(),
            sources=sources_html(self.data.sources),
            panel=self._panel(),
            data=self._data(),
        )

    def _glance(self) -> str:
        vehicle = self.car.vehicle
        return one_line(
            html(
                "glance.html.j2",
                title=self.data.title,
                front=href(procedure_uri(self.car.source.id), self.page),
                vehicle=vehicle.data,
                vehicle_page=href(vehicle_uri(vehicle.id), self.page),
                system=SYSTEMS[self.data.system],
                codes=self._codes(),
                symptoms=self.data.symptoms,
                tests=len(self.car.tests),
                minutes=sum(test.minutes for test in self.car.tests.values()),
                tools=[tool.name for tool in self.data.tools.values()],
            )
        )

    def _gauges(self) -> list[dict[str, Any]]:
        """Return the scales that this page reads, each once, for the reader's own figures."""
        found: dict[tuple[str, str], dict[str, Any]] = {}
        for test in self.car.tests.values():
            for seen in test.observations.values():
                if isinstance(seen.gauge, UnsetType):
                    continue
                tool = self.data.tools[seen.gauge]
                gauge = tool.gauges[seen.kind]
                found[(seen.gauge, seen.kind)] = {
                    "tool": seen.gauge,
                    "name": tool.name,
                    "kind": seen.kind,
                    "grade": gauge.grade,
                    "span": "" if isinstance(gauge.span, UnsetType) else gauge.span,
                    "resolution": ""
                    if isinstance(gauge.resolution, UnsetType)
                    else gauge.resolution,
                }
        return list(found.values())

    def _codes(self) -> dict[str, str]:
        return {code: code_title(code) for code in self.data.codes}

    def _section(self, name: str) -> str:
        """Write a fixed section with the sections below it."""
        section = self.car.source.section(name)
        if section is None:
            return ""
        texts = [self.body.write(section.text)]
        if name != "tests":
            texts += [
                f"{'#' * below.level} {below.title} {{#{below.id}}}\n\n"
                f"{self.body.write(below.text)}"
                for below in self.car.source.under(name)
                if self._concerns(below.id)
            ]
        return "\n\n".join(texts)

    def _concerns(self, section: str) -> bool:
        """Tell whether a repair section is for a fault that this car can have."""
        owners = [
            name for name, fault in self.data.faults.items() if fault.repair.section == section
        ]
        return not owners or any(name in self.car.faults for name in owners)

    def _test(self, name: str, test: Test) -> dict[str, Any]:
        section = self.car.source.section(name)
        return {
            "id": name,
            "title": test.title,
            "facts": self._facts(test),
            "text": self.body.write(section.text) if section else "",
            "observations": "\n".join(
                self._observation(f"{name}.{seen}", observation)
                for seen, observation in test.observations.items()
            ),
            "skip": one_line(html("skip.html.j2", test=name)),
            "calculator": self._embed(name, test.calculator),
        }

    def _facts(self, test: Test) -> str:
        setup = None if isinstance(test.setup, UnsetType) else self.data.setups[test.setup]
        after = [
            {"id": other, "title": self.car.tests[other].title}
            for other in test.after
            if other in self.car.tests
        ]
        return one_line(
            html(
                "facts.html.j2",
                minutes=test.minutes,
                setup=setup,
                tools=[self.data.tools[tool].name for tool in test.tools],
                after=after,
            )
        )

    def _observation(self, seen: str, observation: Observation) -> str:
        if observation.asks:
            values: dict[str, Any] = {"reading": "", "asks": observation.asks}
            values["good"] = "yes" if observation.good else "no"
        else:
            values = self._reading(seen, observation)
        return one_line(html("observation.html.j2", seen=seen, **values))

    def _reading(self, seen: str, observation: Observation) -> dict[str, Any]:
        limit = self.car.bounds(observation)
        units = self.car.units(observation)
        tool = self.data.tools[str(observation.gauge)]
        judge = {
            "kind": observation.kind,
            "reference": observation.reference,
            "low": limit.low,
            "high": limit.high,
            "gauge": gauge_si(tool.gauges[observation.kind], observation.kind),
            "units": units,
        }
        scales = bool(getattr(observation.limit, "scales_with_air", False))
        empty = {"id": f"{seen}.verdict", "label": "Verdict", "outcome": ""}
        return {
            "reading": observation.reading,
            "limit": between_html(*limit.pairs()),
            "scales": scales,
            "gauge": tool.name,
            "tool": observation.gauge,
            "units": [{"symbol": unit, "label": label(unit)} for unit in dict.fromkeys(units)],
            "judge": json.dumps(judge | {"scales": scales}),
            "verdict": verdict_html(empty | {"us": "", "metric": "", "advice": ""}),
        }

    def _embed(self, test: str, embed: Embed | UnsetType) -> str:
        if isinstance(embed, UnsetType):
            return ""
        calculator = door.describe(embed.use)
        quantities = {field.id for field in calculator.inputs if hasattr(field, "kind")}
        given = {
            name: self.car.text(text) if name in quantities and is_figure(text) else text
            for name, text in embed.fields.items()
        }
        form = form_html(calculator, given, self.page, prefix=f"{test}-")
        return one_line(
            Markup(
                '<details class="embed"><summary>Calculator: {}</summary>\n{}\n</details>'
            ).format(calculator.title, Markup(form))
        )

    def _plan(self) -> str:
        plan = self.plans[plan_key(self.network)]
        return one_line(plan_html(self.car, plan, self.settings))

    def _leads_on(self) -> str:
        if not self.data.leads_on:
            return ""
        words = [
            f"- {self.body.link_to_procedure(name)}: {reason}"
            for name, reason in self.data.leads_on.items()
        ]
        return "## Where the job can lead {#leads-on}\n\n" + "\n".join(words) + "\n"

    def _panel(self) -> str:
        tests = [
            {"id": name, "title": test.title, "minutes": test.minutes}
            for name, test in self.car.tests.items()
        ]
        return one_line(html("panel.html.j2", tests=tests, sheets=href(SHEETS_URI, self.page)))

    def _test_words(self, test: Test) -> dict[str, Any]:
        """Return the words of a test that the bench sheet keeps."""
        return {
            "title": test.title,
            "observations": {
                seen: {
                    "asked": observation.asks or observation.reading,
                    "gauge": ""
                    if isinstance(observation.gauge, UnsetType)
                    else self.data.tools[observation.gauge].name,
                }
                for seen, observation in test.observations.items()
            },
        }

    def _data(self) -> str:
        """Write what the page's scripts need: the network and the names on this page."""
        data = {
            "procedure": self.car.source.id,
            "title": self.data.title,
            "vehicle": self.car.vehicle.id,
            "car": self.car.vehicle.data.name,
            "codes": self._codes(),
            "tests": {name: self._test_words(test) for name, test in self.car.tests.items()},
            "faults": {
                name: {
                    "section": fault.repair.section,
                    "leads_to": {other: knock.says for other, knock in fault.leads_to.items()},
                }
                for name, fault in self.car.faults.items()
            },
            "network": self.network,
            "currency": self.settings.currency,
        }
        text = json.dumps(data, ensure_ascii=False).replace("<", "\\u003c")
        return f'<script type="application/json" id="procedure-data">{text}</script>'
