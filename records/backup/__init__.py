"""Back the whole service up into one file, and put it back from there."""
