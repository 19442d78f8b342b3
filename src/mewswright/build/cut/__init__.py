"""Cut plan: how stock bars are sawn into the parts of a take-off, for the least money.

`mewswright.build.cut.solve.cut_plan` is the way in.
"""
