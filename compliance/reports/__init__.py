"""Periodic reports of what was used: sums over signed documents, all of them exact. Pure."""
