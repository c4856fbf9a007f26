"""File in, file out: read, doses, plan, verify. No database."""
