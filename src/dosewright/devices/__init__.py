"""Everything outside: clock, printer, fonts; each with a twin for tests."""
