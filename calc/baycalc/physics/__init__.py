"""Shared physics, one subject a file."""
