"""The key to the marks: each mark of the wall drawn as the wall draws it, with its words."""
