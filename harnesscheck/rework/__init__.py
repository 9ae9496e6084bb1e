"""From one revision of a kit to the next: what differs, and the fewest operations that turn one into the other.

``compare`` says the differences in trade words, ``ends`` what an end of a wire is and what it costs to change it,
``moves`` finds the cheapest way.
"""
