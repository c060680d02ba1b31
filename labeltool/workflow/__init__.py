"""One file a job: read, compute, typeset, write, read back, record."""
