"""The seeded-fault corpus: clean jobs of many shapes, one fault put into each, and the check that must say so."""
