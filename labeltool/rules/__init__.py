"""Rule tables with their sources, and their evaluation."""
