"""The words: values, working time, estimates and the file. No Qt, no solver, no clock."""
