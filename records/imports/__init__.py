"""Lists and shapes that others send as files, read strictly: whatever is wrong is told by row and cell."""
