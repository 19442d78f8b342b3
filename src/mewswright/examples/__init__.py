"""Yards to start from. All of them are invented."""
