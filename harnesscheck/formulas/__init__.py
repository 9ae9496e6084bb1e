"""Cited numbers: plain values in, plain values out. Nothing here knows what a harness is."""
