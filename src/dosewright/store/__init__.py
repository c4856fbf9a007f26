"""The only database models, and the ledger."""
