"""What happens to a batch between opening and shelf: plan, weighing, as made, release, lots, trace, dates. Pure."""
