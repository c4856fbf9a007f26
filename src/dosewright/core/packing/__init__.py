"""Doses become columns, columns become cards, proved to be the fewest, and recounted by strangers to the solver."""
