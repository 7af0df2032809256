"""Tests of books and plans on disk."""
