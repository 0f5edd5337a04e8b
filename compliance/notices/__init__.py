"""Who must be told of a planned treatment, by when, and what the earliest lawful start is. Pure."""
