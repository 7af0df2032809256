"""The wall: what stands on it, where it lies, how it is drawn, and how hands and ears meet it."""
