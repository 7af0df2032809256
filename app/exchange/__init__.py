"""What other programs get from a book and its plan, and give to it, as files. No Qt."""
