"""What is wrong with a filled card."""
