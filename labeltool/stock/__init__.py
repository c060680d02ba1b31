"""Label stocks: the geometry of sheets and rolls, and where each label lies."""
