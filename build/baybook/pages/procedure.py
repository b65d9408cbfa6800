"""A procedure's pages, one for each set of equipment, behind its front page."""

from pathlib import Path
from typing import Any

from markupsafe import Markup

from baybook.book.bound import BoundProcedure
from baybook.book.compiled import CompiledBook
from baybook.book.equipment import Variant
from baybook.book.source_model import Safety
from baybook.book.sources.sections import Section
from baybook.pages.body import BodyWriter
from baybook.pages.calculator import sources_html
from baybook.pages.diagram import diagram_html
from baybook.pages.early_answers import early_answers
from baybook.pages.plan import plan_html, tree_html
from baybook.pages.plan_cache import plan_key, plans_of
from baybook.pages.procedure_front import front_page, trail_of
from baybook.pages.prose import plain_prose, safe_prose
from baybook.pages.render import heading, html, taken
from baybook.pages.site import (
    MY_CAR_URI,
    Page,
    Settings,
    href,
    procedure_uri,
    vehicle_uri,
)
from baybook.pages.test_section import TestWriter

_AFTER_TESTS = ("before-fitting", "fitting", "proof", "meanwhile", "lessons")

_BEFORE_TESTS = ("safety", "how-it-works", "plan", "tests")

_OURS = {"safety": "Safety", "plan": "Plan"}
"""Titles of the sections that no author writes."""

_AT_THE_END = (("sources", "Sources"), ("cars", "Cars"))

_WORK = ("head", "cards", "dock", "trail")
"""Parts of the working view, each at its place on the page."""

_SIGNALS = ("danger", "warning", "caution", "notice")
"""Signal words in the order in which their messages stand."""


def procedure_pages(book: CompiledBook, settings: Settings, cache: Path) -> list[Page]:
    """Return the pages of all procedures; plans are kept in a folder between builds."""
    first = {(car.source.id, car.vehicle.id): car for car in book.bound}
    cars = [first[variant.source.id, variant.cars[0].id] for variant in book.variants]
    plans = plans_of((car.network for car in cars), cache / "plans")
    writers = [
        _PageWriter(variant, car, book, settings, plans)
        for variant, car in zip(book.variants, cars, strict=True)
    ]
    fronts = [front_page(source, book) for source in book.sources.procedures.values()]
    return fronts + [writer.written() for writer in writers]


class _PageWriter:
    """Writes the page of one procedure for one set of equipment."""

    def __init__(
        self,
        variant: Variant,
        car: BoundProcedure,
        book: CompiledBook,
        settings: Settings,
        plans: dict[str, dict[str, Any]],
    ) -> None:
        self.variant = variant
        self.car = car
        self.plans = plans
        self.simulated = book.simulated
        self.learned = book.learned
        self.data = car.source.data
        self.book = book.sources
        self.settings = settings
        prose = safe_prose() if settings.safe else plain_prose()
        self.body = BodyWriter(variant, car, book.sources, prose)
        self.page = self.body.page
        self.tests = TestWriter(car, self.body)

    def written(self) -> Page:
        """Return the page."""
        title, text = self.data.title, self.text()
        trail = trail_of(self.car.source)
        up = procedure_uri(self.car.source.id)
        return Page(
            self.page,
            title,
            text,
            trail,
            wide=True,
            asks=self.body.places.asks,
            uses=self.body.places.uses,
            up=up,
            here="The work",
            files=self._files(),
        )

    @property
    def tree_file(self) -> str:
        """The address of the file with the whole plan, below the root of the book."""
        return self.page.replace(".md", ".plan.js")

    def _files(self) -> dict[str, str]:
        tree = tree_html(self.car, self.plans[plan_key(self.car.network)])
        return {
            self.tree_file: taken("tree", {"id": self.tree_file, "html": tree}),
            self.data_file: taken("page", self._page_data()),
        }

    def text(self) -> Markup:
        return html(
            "procedure.html.j2",
            title=self.data.title,
            only_car=self._only_car(),
            summary=self.data.summary,
            car_choice=html("car_choice.html.j2", **self._addresses()),
            glance=self._glance(),
            bay=html("bay.html.j2", gauges=self.tests.gauges()),
            safety=html("safety.html.j2", messages=self._safety()),
            titles={name: self._title(name) for name in ("how-it-works", "tests")},
            how_it_works=self._section("how-it-works"),
            diagram=diagram_html(self.car),
            codes=html("codes.html.j2", codes=self._codes(), complaints=self._complaints()),
            plan=self._plan(),
            opening=self.car.source.opening,
            tests_intro=self._section("tests"),
            tests=self.tests.sections(),
            sections=[
                {
                    "id": name,
                    "title": title,
                    "parts": self._parts(name),
                    "text": self._section(name),
                }
                for name, title in self._after_tests()
            ],
            leads_on=self._leads_on(),
            sources=sources_html(self.data.sources),
            cars=html(
                "cars.html.j2",
                cars=self._cars(),
                equipment=self._equipment(),
                **self._addresses(),
            ),
            work={part: html("work.html.j2", part=part) for part in _WORK},
            data=self._data_script(),
        )

    def _only_car(self) -> str:
        """Return the name of the book's car where it has but one, for the title."""
        return self.car.vehicle.data.name if len(self.book.vehicles) == 1 else ""

    def _after_tests(self) -> list[tuple[str, str]]:
        """Return the id and title of each section behind the tests that the author wrote."""
        return [(name, self._title(name)) for name in _AFTER_TESTS if self.car.source.section(name)]

    def _title(self, name: str) -> Markup:
        """Return the title of a fixed section as the author wrote it."""
        section = self.car.source.section(name)
        return self.body.inline(section.title) if section else Markup(_OURS.get(name, name))

    def _safety(self) -> list[Safety]:
        return sorted(self.data.safety, key=lambda message: _SIGNALS.index(message.signal))

    def _glance(self) -> Markup:
        return html(
            "glance.html.j2",
            front=href(procedure_uri(self.car.source.id), self.page),
            system=self.car.source.system,
            codes=self._codes(),
            symptoms=self.data.complaint_texts(),
            tests=len(self.car.tests),
            minutes=sum(test.minutes for test in self.car.tests.values()),
            tools=self._tools(),
            places=[
                *((name, self._title(name)) for name in _BEFORE_TESTS),
                *self._after_tests(),
                *_AT_THE_END,
            ],
        )

    def _addresses(self) -> dict[str, str]:
        name = self.car.source.id
        front = href(procedure_uri(name), self.page)
        return {"id": name, "front": front, "my_car": href(MY_CAR_URI, self.page)}

    def _equipment(self) -> dict[str, list[str]]:
        """Return in words what a car of this page has, and what it has not."""
        words = self.book.shared.equipment_words
        return {
            "has": [words(name) for name in self.variant.equipment],
            "without": [words(name) for name in self.variant.without],
        }

    def _cars(self) -> list[dict[str, Any]]:
        """Return the cars of the book that this page serves."""
        return [
            {"id": car.id, "data": car.data, "figures": href(vehicle_uri(car.id), self.page)}
            for car in self.variant.cars
        ]

    def _tools(self) -> list[str]:
        """Return the names of the tools that the tests of this car need, each once."""
        used = dict.fromkeys(tool for test in self.car.tests.values() for tool in test.tools)
        return [self.data.tools[tool].name for tool in used]

    def _codes(self) -> dict[str, str]:
        return {code: self.car.code_title(code) for code in self.car.codes}

    def _complaints(self) -> dict[str, str]:
        """Return what customers say, by the id under which the plan knows it."""
        return self.data.complaints or {
            f"complaint-{place}": text for place, text in enumerate(self.data.symptoms, 1)
        }

    def _parts(self, name: str) -> list[str]:
        return [part.title for part in self.car.source.under(name) if self._concerns(part.id)]

    def _section(self, name: str) -> Markup:
        """Write a fixed section with the sections below it."""
        section = self.car.source.section(name)
        if section is None:
            return Markup("")
        self.body.places.here = section.title
        texts = [self.body.write(section.text)]
        if name != "tests":
            for below in self.car.source.under(name):
                if self._concerns(below.id):
                    self.body.places.here = below.title
                    texts.append(self._below(name, below))
        return Markup("\n").join(texts)

    def _below(self, name: str, section: Section) -> Markup:
        """Write a section below another one; what fits a part is a card of its own."""
        text = self._heading(section) + Markup("\n") + self.body.write(section.text)
        if name != "fitting":
            return text
        return Markup('<section data-card="fit" data-section="{}">\n{}\n</section>').format(
            section.id, text
        )

    def _heading(self, section: Section) -> Markup:
        title = self.body.inline(section.title)
        return heading(section.level, section.id, title)

    def _concerns(self, section: str) -> bool:
        """Tell whether a repair section is for a fault that this car can have."""
        owners = [
            name for name, fault in self.data.faults.items() if fault.repair.section == section
        ]
        return not owners or any(name in self.car.faults for name in owners)

    def _plan(self) -> Markup:
        plan = self.plans[plan_key(self.car.network)]
        simulated = self.simulated.networks.get(self.car.key)
        learned = self.learned.get(self.car.source.id)
        return plan_html(self.car, plan, self.settings, simulated, learned, self.tree_file)

    def _leads_on(self) -> list[tuple[Markup, Markup]]:
        return [
            (self.body.link_to_procedure(name), self.body.inline(reason))
            for name, reason in self.data.leads_on.items()
            if self.body.serves(name)
        ]

    @property
    def data_file(self) -> str:
        """The address of the file with what the page's scripts need, below the book's root."""
        return self.page.replace(".md", ".data.js")

    def _data_script(self) -> Markup:
        """Write the script that reads the page's data: half of them are never looked at."""
        name = self.data_file.rpartition("/")[2]
        return Markup('<script id="procedure-data" src="{}"></script>').format(name)

    def _page_data(self) -> dict[str, Any]:
        """Return what the page's scripts need: the network and the names on this page."""
        return {
            "procedure": self.car.source.id,
            "title": self.data.title,
            "equipment": self.variant.name,
            "codes": self._codes(),
            "tests": self.tests.words(),
            "faults": {
                name: {
                    "section": fault.repair.section,
                    **({"was": fault.was} if fault.was else {}),
                    "leads_to": {other: knock.says for other, knock in fault.leads_to.items()},
                }
                for name, fault in self.car.faults.items()
            },
            "complaints": self._complaints(),
            "page": href(self.page, ""),
            "fingerprint": self.car.fingerprint,
            "early": early_answers(self.plans[plan_key(self.car.network)]["first"]),
            "network": self.car.network,
            "currency": self.settings.currency,
        }
