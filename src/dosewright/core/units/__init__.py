"""The smallest values that every room shares: amounts, dosing times, ids, findings."""
