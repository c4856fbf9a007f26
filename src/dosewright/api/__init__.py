"""Other programs: the bench's actions over HTTP, by tokens that bear a person's name and no more than that person's rights."""
