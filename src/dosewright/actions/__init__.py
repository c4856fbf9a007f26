"""One file for each thing a person can do: one transaction, one ledger entry, and the decision asked of core."""
