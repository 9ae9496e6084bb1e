"""The same bytes whatever the hash seed, the locale, the time zone and the Python version."""
