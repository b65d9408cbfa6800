"""Python for the browser: made at build time, carried by the book, started in the page."""

from baybook.runtime.bundle import RuntimeFiles, build_runtime
from baybook.runtime.errors import RuntimeBuildError
from baybook.runtime.vendored import vendored

__all__ = ["RuntimeBuildError", "RuntimeFiles", "build_runtime", "vendored"]
