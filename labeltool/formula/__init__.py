"""Workshop, materials and formula files: read, checked, kept with their line numbers."""
