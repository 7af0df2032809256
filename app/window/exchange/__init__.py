"""The pages on which files of other programs are brought in, and files are given out."""
