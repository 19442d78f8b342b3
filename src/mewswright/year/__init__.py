"""Who lives where, week by week: the core that plans a year, for units and places in the abstract.

No command asks it yet.
"""
