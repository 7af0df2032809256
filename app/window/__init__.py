"""The window: views, what is shown in them, and how it is drawn."""
