"""Directions become doses: words to structure, structure to dates, structure to words."""
