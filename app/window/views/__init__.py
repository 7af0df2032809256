"""The views beside the wall: each answers one question, its sentence first."""
