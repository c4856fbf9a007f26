"""The bench on screen: views, forms, fragments and their wording. Each view calls one action."""
