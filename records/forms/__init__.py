"""What a person fills in: the table of the crew's form, its controls, and what comes back from them."""
