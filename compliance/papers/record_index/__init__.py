"""The index of records that are handed over: a line for each version, by month, with bookmarks."""

from compliance.papers.record_index.drawing import Line, draw

__all__ = ["Line", "draw"]
