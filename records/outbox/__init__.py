"""Notices on their way to the people who are told of a treatment: queued, sent, tried again, proven."""
