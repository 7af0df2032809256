"""The owner's view: an enquiry laid beside the book, what it does, costs, and what can be said."""
