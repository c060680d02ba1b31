"""QR matrices and the drawn symbols, as values."""
