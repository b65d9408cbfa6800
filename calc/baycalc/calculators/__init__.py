"""One calculator a file; each file declares itself as ``CALCULATOR``."""
