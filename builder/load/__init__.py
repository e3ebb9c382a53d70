"""Reading YAML with the place of every value, and telling a person what is wrong with it."""
