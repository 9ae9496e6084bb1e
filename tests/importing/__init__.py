"""Tests of the reader of lists."""
