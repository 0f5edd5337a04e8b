"""Building blocks for models: rows that only grow in number, and columns that hold quantities."""
