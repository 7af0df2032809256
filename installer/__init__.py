"""Builds what people without Python install: one folder, its archive, its licences."""
