"""A workshop's year, simulated: ``python -m tests.bench year [--seeds N] [--load PERCENT]``."""
