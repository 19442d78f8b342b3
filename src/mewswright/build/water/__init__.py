"""Where water goes: rain off the roof, the ground around, the floor, the baths.

`mewswright.build.water.report.drainage` is the way in.
"""
