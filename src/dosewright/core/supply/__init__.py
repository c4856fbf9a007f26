"""Stock by lot and expiry, and the account in which no unit is lost."""
