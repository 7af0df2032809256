"""Books on demand: made-up workshops of every shape, from a seed, with known truths planted."""
