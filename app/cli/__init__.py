"""The command line: one module for each verb; no Qt."""
