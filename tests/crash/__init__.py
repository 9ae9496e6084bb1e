"""Runs that are killed, steps that fail, runs beside each other: what is written is the old or the new, and whole."""
