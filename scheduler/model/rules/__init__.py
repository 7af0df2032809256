"""The rules of the model, one file for each kind; build.py says in which order they come."""
