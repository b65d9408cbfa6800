"""What can go wrong while the browser's Python is built."""


class RuntimeBuildError(Exception):
    """The browser's Python cannot be built: one sentence, with a hint where there is one."""
