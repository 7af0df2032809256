"""What tables and calendars of other programs bring into a book: read, judged, then taken whole."""
