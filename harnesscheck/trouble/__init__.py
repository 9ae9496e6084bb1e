"""Troubleshooting: from readings and symptoms to ranked suspects and the next best reading.

``network`` takes the copper under test to pieces, ``faults`` lists what can be wrong with it, ``predict`` says what
every reading would then be, ``rank`` turns readings into probabilities, and ``ask`` chooses the next reading.
"""
