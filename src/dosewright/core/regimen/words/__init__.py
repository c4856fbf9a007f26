"""Structure to words: one plain sentence from dosages, in the language of the person who takes them."""
