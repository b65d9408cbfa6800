"""Where a built book goes: a folder that may be replaced, and how the new takes its place."""
