"""Let a firm leave with everything, as one file in open formats, and put such a file into an empty service."""
