"""How a unit stands fast: lifted, pushed, tipped and racked by wind, and what holds it.

`mewswright.build.holding.stability.stability` is the way in.
"""
