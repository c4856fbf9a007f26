"""Tern Street Pharmacy, a demonstration: 40 invented people, their medicines and orders, as files. The same bytes every time.

Nothing here is real but the generic names. Makers, marks, codes and sizes are invented, people and prescribers too.
"""
