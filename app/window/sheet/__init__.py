"""The sheet on which a job is written: sentences with blanks, and a small grid of segments."""
