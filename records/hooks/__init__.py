"""Telling other programs what happened: noted with the deed, signed, sent by the worker, tried again."""
