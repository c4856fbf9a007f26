"""Each module here measures one thing against something independent, in one run, and prints a ratio and its growth."""
