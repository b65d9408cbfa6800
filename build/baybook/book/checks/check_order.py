"""The order of tests: none waits for itself, and none for a test that the car does not have."""

from baybook.book.context import Context


def check_order(context: Context) -> None:
    """Check `after` of every test."""
    tests, report = context.data.tests, context.report
    for name, test in tests.items():
        for place, other in enumerate(test.after):
            path = ("tests", name, "after", place)
            report.knows(path, other, tests, "a test of this procedure")
        _check_done_on_car(context, name)
    for ring in find_rings({name: test.after for name, test in tests.items()}):
        waits = ", ".join(
            f"{name} waits for {ring[(place + 1) % len(ring)]}" for place, name in enumerate(ring)
        )
        report.error(
            ("tests", ring[0], "after"),
            f"expected tests that can be done one after another, got {waits}",
            "take one of them out of `after`",
        )


def find_rings(waits: dict[str, tuple[str, ...]]) -> list[tuple[str, ...]]:
    """Return the rings of names that wait for each other, each once, from its first name."""
    found: dict[frozenset[str], tuple[str, ...]] = {}
    for start in waits:
        ring = _ring_from(start, waits)
        if ring:
            found.setdefault(frozenset(ring), ring)
    return list(found.values())


def _ring_from(start: str, waits: dict[str, tuple[str, ...]]) -> tuple[str, ...] | None:
    """Return the shortest way from a name back to itself."""
    ways: list[tuple[str, ...]] = [(start,)]
    seen: set[str] = set()
    for way in ways:
        for other in waits.get(way[-1], ()):
            if other == start:
                return way
            if other not in seen:
                seen.add(other)
                ways.append((*way, other))
    return None


def _check_done_on_car(context: Context, name: str) -> None:
    """Report a test of which, on some car, every test before it falls away."""
    tests = context.data.tests
    before = [tests[other] for other in tests[name].after if other in tests]
    if not before:
        return
    for car in context.cars_with(tests[name].when):
        if not any(test.when.fits(car.data.has) for test in before):
            context.report.error(
                ("tests", name, "after"),
                f"expected a test that is done on {car.lines.file} too, "
                f"got {', '.join(tests[name].after)}",
                "compare `when` of the two tests",
            )
            return
