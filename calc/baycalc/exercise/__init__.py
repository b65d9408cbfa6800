"""Exercises: a job with a hidden fault, the answers of the car, and the marks at its end.

What is drawn follows from the seed alone, so that a result can be worked out again from it.
"""
