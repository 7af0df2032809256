"""Files of every format that was ever written; see README.md."""
