"""A plain search of the latest departure: every legal quarter is tried, only equals are joined.

Written from what the law and the road say, beside the product's search and without its code: of
`shared.road` it takes the values of rules, legs and drivers, and the bans of a road. A driver is
kept as what is left to them, and a rest is begun as what it is meant to be: a break, a daily rest
or a shorter one. Slow on purpose.
"""
