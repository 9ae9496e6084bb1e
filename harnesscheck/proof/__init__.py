"""The do-no-harm proof of an installed jumper: what it is that is proven, with which numbers, and what is not known."""
