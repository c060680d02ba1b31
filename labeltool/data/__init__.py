"""Words by language, and the metrics of the shipped font."""
