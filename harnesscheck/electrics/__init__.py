"""What flows: the DC solve of a harness. ``network`` knows numbers only, ``wiring`` makes a network of a harness."""
