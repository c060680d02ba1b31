"""A PDF read back: rasters, decoders, comparison with what was expected."""
