"""The archive for people without Python, as far as it can be tested without building it."""
