"""What to do when something goes wrong, in words. Pure."""
