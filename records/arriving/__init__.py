"""Years of spreadsheets on their way in: read with bounds, matched to our members, told by row and cell."""
