"""Books and plans on disk: the words of FORMAT.md, read, written, saved and locked."""
