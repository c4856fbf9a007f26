"""Tags and filters that templates load."""
