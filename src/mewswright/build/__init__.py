"""Building: frames, take-off, cut plan and cost."""
