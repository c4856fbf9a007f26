"""What a medicine is, how big a unit of it is, and what may lie beside it."""
