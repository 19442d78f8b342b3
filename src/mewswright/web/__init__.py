"""The pages. They ask the core, and show what it says."""
