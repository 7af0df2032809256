"""Ways out: what could be changed in a book, what it costs, and the cheapest that makes it fit."""
