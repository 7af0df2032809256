"""Paper beside the day's sheets, read back by other libraries and held against the plan."""
