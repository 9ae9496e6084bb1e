"""The do-no-harm proof against an oracle of its own, and the independent re-checker."""
