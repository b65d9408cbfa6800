"""The tests of a procedure: their sections, and where results are entered."""

import json
from typing import Any

from markupsafe import Markup
from msgspec import UnsetType

from baybook.book.car import CarProcedure, gauge_si, is_figure
from baybook.book.source_model import Embed, Observation, Setup, Test
from baybook.book.sources.problem_report import written_from
from baybook.pages.body import BodyWriter, between_html
from baybook.pages.form_fields import entries_of
from baybook.pages.render import html
from baybook.pages.site import calculator_uri, href
from baycalc import api
from baycalc.forms.declare import Quantity
from baycalc.quantities.units import label
from baycalc.text import capital, duration


def _in_attribute(data: dict[str, Any]) -> Markup:
    """Write data as JSON inside single quotes, without what only fills a line of theirs."""
    text = json.dumps(data, separators=(",", ":"))
    return Markup(text.replace("&", "&amp;").replace("<", "&lt;").replace("'", "&#39;"))


class TestWriter:
    """Writes the sections of the tests of one procedure for one car."""

    def __init__(self, car: CarProcedure, body: BodyWriter) -> None:
        self.car = car
        self.data = car.source.data
        self.body = body

    def sections(self) -> list[dict[str, Any]]:
        """Return every test as the template wants it."""
        return [self._test(name, test) for name, test in self.car.tests.items()]

    def _test(self, name: str, test: Test) -> dict[str, Any]:
        with written_from(self.car.source.lines, ("tests", name)):
            return self._written(name, test)

    def _written(self, name: str, test: Test) -> dict[str, Any]:
        section = self.car.source.section(name)
        self.body.places.here = test.title
        return {
            "id": name,
            "title": test.title,
            "brief": self._brief(test),
            "facts": self._facts(test),
            "text": self.body.write(section.text) if section else "",
            "observations": Markup("\n").join(
                self._observation(f"{name}.{seen}", observation)
                for seen, observation in test.observations.items()
            ),
            "skip": html("skip.html.j2", test=name),
            "calculator": self._embed(name, test.calculator),
        }

    def _setup(self, test: Test) -> Setup | None:
        return None if isinstance(test.setup, UnsetType) else self.data.setups[test.setup]

    def _brief(self, test: Test) -> str:
        """Return what stands of a test while it is folded: its time, and how the car stands."""
        setup = self._setup(test)
        standing = f", {setup.says.rstrip('.')}" if setup else ""
        return f"{duration(test.minutes)}{standing}"

    def _facts(self, test: Test) -> Markup:
        setup = self._setup(test)
        after = [
            {"id": other, "title": self.car.tests[other].title}
            for other in test.after
            if other in self.car.tests
        ]
        return html(
            "facts.html.j2",
            minutes=test.minutes,
            setup=setup,
            tools=[self.data.tools[tool].name for tool in test.tools],
            after=after,
        )

    def _observation(self, seen: str, observation: Observation) -> Markup:
        if observation.asks:
            values: dict[str, Any] = {"reading": "", "asks": observation.asks}
            values |= _choices(observation)
        else:
            values = self._reading(observation)
        return html("observation.html.j2", seen=seen, means=_means(observation), **values)

    def _reading(self, observation: Observation) -> dict[str, Any]:
        limit = self.car.bounds(observation)
        units = self.car.units(observation)
        tool = self.data.tools[str(observation.gauge)]
        key, place = self.body.places.limit(observation)
        scales = bool(getattr(observation.limit, "scales_with_air", False))
        judge = {
            "kind": observation.kind,
            "reference": observation.reference,
            "low": None if key else limit.low,
            "high": None if key else limit.high,
            "gauge": gauge_si(tool.gauges[observation.kind], observation.kind),
            "units": units,
            "scales": scales,
        }
        return {
            "reading": observation.reading,
            "limit": place if key else between_html(*limit.pairs(units)),
            "limit_key": key,
            "scales": scales,
            "gauge": tool.name,
            "tool": observation.gauge,
            "units": [{"symbol": unit, "label": label(unit)} for unit in dict.fromkeys(units)],
            "judge": _in_attribute(judge),
        }

    def _embed(self, test: str, embed: Embed | UnsetType) -> Markup:
        """Write the place of a calculator, which is drawn when it is opened."""
        if isinstance(embed, UnsetType):
            return Markup("")
        calculator = api.describe(embed.use)
        quantities = {field.id for field in calculator.inputs if isinstance(field, Quantity)}
        of_car = {
            name: self.body.places.entry(text, embed.use, name)
            for name, text in embed.fields.items()
            if name in quantities and is_figure(text)
        }
        given = {name: text for name, text in embed.fields.items() if name not in of_car}
        return html(
            "embed.html.j2",
            calculator=calculator,
            test=test,
            given=entries_of(calculator, given),
            of_car=of_car,
            page=href(calculator_uri(embed.use), self.body.page),
        )

    def gauges(self) -> list[dict[str, Any]]:
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

    def _words(self, test: Test) -> dict[str, Any]:
        """Return the words of a test that the bench sheet keeps."""
        return {
            "title": test.title,
            **_was(test),
            "observations": {
                seen: {
                    "asked": observation.asks or observation.reading,
                    **_was(observation),
                    "gauge": ""
                    if isinstance(observation.gauge, UnsetType)
                    else self.data.tools[observation.gauge].name,
                }
                for seen, observation in test.observations.items()
            },
        }

    def words(self) -> dict[str, Any]:
        """Return the words of each test that the bench sheet keeps."""
        return {name: self._words(test) for name, test in self.car.tests.items()}


def _means(observation: Observation) -> list[tuple[str, str]]:
    """Return what is wrong with the car where a result is not normal, by the outcome in words."""
    bands = [(capital(band.says), band.means) for band in observation.bands.values()]
    return [each for each in [("Not normal", observation.means), *bands] if each[1]]


def _was(record: Test | Observation) -> dict[str, Any]:
    """Return the earlier ids of a record, where it has any."""
    return {"was": record.was} if record.was else {}


def _choices(observation: Observation) -> dict[str, Any]:
    """Return the answers to a question: yes and no, or its outcomes by name."""
    if observation.bands:
        outcomes = {name: capital(band.says) for name, band in observation.bands.items()}
        normal = {"normal": capital(observation.normal or "normal")}
        return {"good": "normal", "bands": True, "answers": normal | outcomes}
    good = "yes" if observation.good else "no"
    return {"good": good, "bands": False, "answers": {"yes": "Yes", "no": "No"}}
