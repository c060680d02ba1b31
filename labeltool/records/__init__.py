"""The batch record: events, queries, and the store they lie in."""
