"""Proposals, all judged by the checks: fittings in quarters, and mending what stands."""
