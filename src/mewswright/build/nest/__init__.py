"""Nesting: how sheets are sawn into rectangular parts, with cuts from edge to edge.

`mewswright.build.nest.solve.nest_plan` is the way in.
"""
