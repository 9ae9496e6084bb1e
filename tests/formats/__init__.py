"""What the readers of the job files make of an input, and what they refuse, counted by hand in the input itself."""
