"""Batch codes, check digits, dates, QR payloads."""
