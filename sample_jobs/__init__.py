"""Sample books, read with ``importlib.resources.files("sample_jobs")``."""
