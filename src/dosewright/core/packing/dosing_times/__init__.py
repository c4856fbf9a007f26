"""The fewest dosing times that a person's orders leave room for, then the gentlest change: proposed beside today's, never done."""
