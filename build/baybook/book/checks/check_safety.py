"""Safety: every hazard of a set-up that is used has a message that speaks of it."""

from msgspec import UnsetType

from baybook.book.context import Context


def check_safety(context: Context) -> None:
    """Check safety messages against the hazards of the set-ups."""
    if "shared.yml" in context.book.left_out:
        return
    data, shared = context.data, context.book.shared.safety
    for place, name in enumerate(data.shared_safety):
        path = ("shared-safety", place)
        context.report.knows(path, name, shared, "a safety message of shared.yml")
    covered = {hazard for message in data.safety for hazard in message.covers}
    told: set[str] = set()
    for name, test in data.tests.items():
        setup = None if isinstance(test.setup, UnsetType) else data.setups.get(test.setup)
        for hazard in setup.hazards if setup else ():
            if hazard not in covered | told:
                told.add(hazard)
                context.report.error(
                    ("tests", name, "setup"),
                    f"expected a safety message that covers {hazard}, got none",
                    _cover_hint(context, hazard),
                )


def _cover_hint(context: Context, hazard: str) -> str:
    for name, message in context.book.shared.safety.items():
        if hazard in message.covers:
            return f"add {name} to shared-safety"
    return f"add a message with covers: [{hazard}] to safety"
