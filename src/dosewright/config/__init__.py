"""Settings and wiring: which clock, which printer, which store; and the commands of the running system."""
