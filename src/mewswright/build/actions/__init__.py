"""What a unit must stand: snow, wind, its own weight, people and a bird that bates."""
