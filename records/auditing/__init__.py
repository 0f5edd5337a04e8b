"""Where entries of who did what come from by themselves, and how they are found again."""
