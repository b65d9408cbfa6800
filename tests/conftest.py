"""What all tests share."""

from hypothesis import settings

# The same examples on every run, and no deadline: a busy machine is no failure.
settings.register_profile("steady", derandomize=True, deadline=None)
settings.load_profile("steady")
