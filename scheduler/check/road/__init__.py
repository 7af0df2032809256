"""An itinerary of the road held against the law, by code of its own.

It reads the journey, the drivers, the itinerary and the numbers of the rules; how they are
searched it doesn't know.
"""
