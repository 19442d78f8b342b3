"""Frozen shapes: what a yard holds, and the problems that reading it can raise."""
