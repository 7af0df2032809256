"""Paper beside the day's sheets: the week board, the wall, the letter, load lists, the owner's."""
