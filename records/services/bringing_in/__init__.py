"""Spreadsheets of past years: kept, said what they are, looked at, brought in at once, taken back."""
