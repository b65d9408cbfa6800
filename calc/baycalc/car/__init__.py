"""One car: its figures as the pages show them, and what serves it."""
