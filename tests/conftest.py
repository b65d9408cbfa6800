"""What all tests share."""

import os

from hypothesis import settings

# The same examples on every run, and no deadline: a busy machine is no failure.
settings.register_profile("steady", derandomize=True, deadline=None)
settings.load_profile("steady")

# Tests run side by side: each with threads of its own for linear algebra would wait for the others.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
