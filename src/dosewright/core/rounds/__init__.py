"""Giving the doses: what is due, given, left and returned."""
