"""Answers to somebody or something that is not there for a while."""
