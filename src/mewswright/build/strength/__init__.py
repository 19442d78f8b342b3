"""Strength of timber, boards and fasteners by EN 1995-1-1, first generation.

`member.member_checks` judges one member, `deck` what people step on, `uplift_path` how a
roof is tied to the ground. A first sizing: the local annex, the local code and a licensed
engineer decide.
"""
