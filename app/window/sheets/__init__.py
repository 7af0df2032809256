"""The day's sheets: what everybody does today, on paper and on the screen."""
