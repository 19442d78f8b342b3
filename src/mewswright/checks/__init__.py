"""What the yard is told: briefs and findings."""
