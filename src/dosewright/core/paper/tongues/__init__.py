"""What the person's sheet says, in each language: sentences, days, and the words of the catalogue that have an entry."""
