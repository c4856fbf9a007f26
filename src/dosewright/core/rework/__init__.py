"""What an order change means for cards that exist."""
