"""Checks of treatments, and signing with a check and answers."""
