"""The bundle that answers a request: what lies in it beside the records, and the worker's turn at making it."""
