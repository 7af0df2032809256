"""What stands where nothing is on the wall yet, and how a first job comes of four blanks."""
