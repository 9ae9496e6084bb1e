"""Fuzzing: every reader and the whole path behind it on mutated files, by ``python -m tests.fuzz``."""
