"""Ring-out: bounds, tables and resistances against the literature, and every fault simulated on a model of its own."""
