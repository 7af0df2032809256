"""Books in which something was wrong once, each with the test that found it."""
