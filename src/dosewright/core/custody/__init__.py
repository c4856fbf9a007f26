"""Which event may follow which, and who may cause it."""
