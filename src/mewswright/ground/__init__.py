"""What lies between things on the ground: distances, sight, and ways through doors."""
