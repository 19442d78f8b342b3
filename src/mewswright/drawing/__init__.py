"""Drawings: one scene of marks in millimetres, and the writers that turn it into files."""
