"""Orders: what to buy, by when, not before when, and for which jobs."""
