"""From one revision of a kit to the next: what differs, and the fewest operations that turn one into the other.

``things`` turns a harness into plain statements, ``renames`` finds what only has another name, ``compare`` says the
differences in trade words and the circuits that changed. ``ends`` says what an end of a wire is and what it costs to
change it, ``moves`` finds the cheapest way, ``shortest`` asks for it.
"""
