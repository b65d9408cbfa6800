"""Bodies and shared texts as templates: every word is known, for every car that is served."""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from jinja2 import nodes
from msgspec import UNSET

from baybook.book.car import torque_names
from baybook.book.context import Context, missing_figure
from baybook.book.equipment import by_equipment
from baybook.book.files import find_file, missing_file
from baybook.book.pint_quantities import kinds_of
from baybook.book.prose.markdown_limits import markdown_problem
from baybook.book.prose.template_trial import may_fail, try_out
from baybook.book.prose.template_words import WordCall, Wrong, asked, parse, wrong_words
from baybook.book.quantity_hints import quantity_hint
from baybook.book.source_model import Figure, Needs
from baybook.book.sources.load import Book, VehicleSource
from baybook.book.sources.problem_report import name_hint
from baybook.book.sources.problems import Problem


@dataclass(frozen=True, slots=True)
class TemplateText:
    """A text that is a template, and where it begins."""

    file: str
    first_line: int
    text: str

    def problem(self, line: int, text: str, hint: str = "", severity: str = "error") -> Problem:
        """Make a problem at a line of the text."""
        return Problem(self.file, self.first_line + line - 1, "", text, hint, severity)


def check_text(text: TemplateText, problems: list[Problem]) -> nodes.Template | None:
    """Check a template in itself; return it where it can be read."""
    slow = markdown_problem(text.text)
    if slow:
        problems.append(text.problem(*slow))
        return None
    tree = parse(text.text)
    found = [tree] if isinstance(tree, Wrong) else wrong_words(tree)
    problems += [text.problem(wrong.line, wrong.text, wrong.hint) for wrong in found]
    return None if isinstance(tree, Wrong) else tree


def shared_text(book: Book, name: str) -> TemplateText:
    """Return a shared text with its place."""
    return TemplateText(book.shared_text_files[name], 1, book.shared_texts[name])


def check_templates(context: Context) -> None:
    """Check the texts of a procedure, and the shared ones it uses, for every car it serves."""
    words = _Words(context)
    for section in context.source.sections:
        text = TemplateText(context.source.lines.file, section.text_line, section.text)
        test = context.data.tests.get(section.id)
        cars = context.cars_with(test.when if test else Needs())
        before = len(context.report.problems)
        tree = check_text(text, context.report.problems)
        if tree and len(context.report.problems) == before and may_fail(tree):
            words.try_out(text, cars)
        if tree:
            words.check(text, tree, cars)
    words.report_missing()


@dataclass(slots=True)
class _Words:
    """What the texts of one procedure ask for, held against its cars and its book."""

    context: Context
    missing: dict[tuple[TemplateText, int, str], list[VehicleSource]] = field(default_factory=dict)

    def check(
        self,
        text: TemplateText,
        tree: nodes.Template,
        cars: Iterable[VehicleSource],
        trail: tuple[str, ...] = (),
    ) -> None:
        """Check a text for each car; without one, as far as that goes."""
        for group in by_equipment(cars) or [[]]:
            for word in asked(tree, next(iter(group), None)):
                self._check_word(text, word, group, trail)

    def try_out(self, text: TemplateText, cars: Iterable[VehicleSource]) -> None:
        """Fill a text in for each car, and report the first failure."""
        for car in cars:
            wrong = try_out(text.text, car.data)
            if wrong:
                self._add(text, wrong.line, wrong.text)
                return

    def report_missing(self) -> None:
        """Report each figure that cars lack, once."""
        for (text, line, name), cars in self.missing.items():
            self._add(text, line, *missing_figure(name, cars))

    def _add(self, text: TemplateText, line: int, *what: str) -> None:
        self.context.report.problems.append(text.problem(line, *what))

    def _check_word(
        self, text: TemplateText, word: WordCall, cars: list[VehicleSource], trail: tuple[str, ...]
    ) -> None:
        """Check a word for cars that have the same equipment."""
        name = word.argument
        if word.function in ("figure", "where"):
            for car in cars:
                self._check_figure(text, word, car)
        elif word.function == "quantity":
            if not kinds_of(name):
                what = f"expected a quantity with its unit, got {name}"
                self._add(text, word.line, what, quantity_hint(name))
        elif word.function == "has":
            self._check_equipment(text, word)
        elif word.function in ("picture", "video", "file"):
            self._check_file(text, word)
        elif word.function == "pins":
            for car in cars:
                self._check_connector(text, word, car)
        elif word.function == "torques":
            for figure in torque_names(name):
                self._check_word(text, replace(word, function="figure", argument=figure), cars, ())
        elif self._is_known(text, word):
            if word.function == "shared":
                self._check_shared(text, word, cars, trail)
            elif word.function == "test":
                for car in cars:
                    self._check_test(text, word, car)

    def _check_file(self, text: TemplateText, word: WordCall) -> None:
        pictures = self.context.data.pictures
        if word.function == "picture" and word.argument in pictures:
            return
        book = self.context.book
        if find_file(book, word.argument, text.file) is None:
            self._add(text, word.line, *missing_file(book, word.argument))
        elif word.function == "picture" and not (word.more and word.more[0].strip()):
            self._add(
                text,
                word.line,
                "expected a picture with words for those who cannot see it, got none",
                f'write them behind its name: picture("{word.argument}", "a hand pump")',
                "warning",
            )

    def _check_connector(self, text: TemplateText, word: WordCall, car: VehicleSource) -> None:
        known = car.data.connectors
        if word.argument not in known:
            what = f"expected a connector of {car.lines.file}, got {word.argument}"
            self._add(text, word.line, what, name_hint(word.argument, known))

    def _check_figure(self, text: TemplateText, word: WordCall, car: VehicleSource) -> None:
        figure = car.data.figures.get(word.argument)
        if figure is None:
            cars = self.missing.setdefault((text, word.line, word.argument), [])
            if car not in cars:
                cars.append(car)
        elif word.function == "where" and not figure.where:
            self._figure_lacks(text, word, car, "where")
        elif word.function == "figure" and not _has_bounds(figure):
            self._figure_lacks(text, word, car, "a value or bounds")

    def _figure_lacks(
        self, text: TemplateText, word: WordCall, car: VehicleSource, what: str
    ) -> None:
        place = f"{car.lines.file}:{car.lines.line(('figures', word.argument))}"
        self._add(text, word.line, f"expected a figure with {what}, got {word.argument} of {place}")

    def _check_equipment(self, text: TemplateText, word: WordCall) -> None:
        book = self.context.book
        known = sorted({name for car in book.vehicles.values() for name in car.data.has})
        if word.argument not in known and not book.vehicles_left_out():
            self._add(
                text,
                word.line,
                f"expected equipment that a vehicle has, got {word.argument}",
                name_hint(word.argument, known),
                "warning",
            )

    def _is_known(self, text: TemplateText, word: WordCall) -> bool:
        book = self.context.book
        known, what = {
            "test": (list(self.context.data.tests), "a test of this procedure"),
            "procedure": (book.procedure_names(), "a procedure"),
            "calculator": (list(self.context.calculators), "a calculator"),
            "shared": (book.shared_text_names(), "a text of the folder shared"),
        }[word.function]
        if word.argument in known:
            return True
        hint = name_hint(word.argument, known)
        self._add(text, word.line, f"expected {what}, got {word.argument}", hint)
        return False

    def _check_test(self, text: TemplateText, word: WordCall, car: VehicleSource) -> None:
        when = self.context.data.tests[word.argument].when
        if not when.fits(car.data.has):
            asked = (*when.needs, *when.any)
            condition = f'has("{asked[0]}")' if asked else f'not has("{when.without[0]}")'
            self._add(
                text,
                word.line,
                f"expected a test that is done on {car.lines.file}, got {word.argument}",
                f"put it between {{% if {condition} %}} and {{% endif %}}",
            )

    def _check_shared(
        self, text: TemplateText, word: WordCall, cars: list[VehicleSource], trail: tuple[str, ...]
    ) -> None:
        name, book = word.argument, self.context.book
        if name in trail:
            ring = " uses ".join((*trail[trail.index(name) :], name))
            self._add(text, word.line, f"expected a text that does not use itself, got {ring}")
        elif name in book.shared_texts:
            inner = shared_text(book, name)
            tree = parse(inner.text)
            if not isinstance(tree, Wrong):
                if cars and may_fail(tree) and not list(wrong_words(tree)):
                    self.try_out(inner, cars)
                self.check(inner, tree, cars, (*trail, name))


def _has_bounds(figure: Figure) -> bool:
    given = (figure.value, figure.between, figure.at_least, figure.at_most)
    return bool(figure.text) or any(text is not UNSET for text in given)
