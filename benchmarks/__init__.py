"""Benchmarks: each prints its table with target and result, and exits 1 when a target is missed."""
