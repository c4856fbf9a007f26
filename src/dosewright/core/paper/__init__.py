"""A plan becomes pages: geometry, text that fits, codes, PDF bytes, and reading them back."""
