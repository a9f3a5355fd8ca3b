"""Benchmarks: ratios measured in one run, never times."""
