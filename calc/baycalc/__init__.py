"""Calculators, verdicts and fault isolation of Baybook: standard library only, plain SI floats."""
