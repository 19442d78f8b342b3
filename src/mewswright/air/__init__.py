"""The air in quarters, hour by hour: warmth, damp, draught, and what birds make of it."""
