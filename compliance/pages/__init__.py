"""Pages to which the rules add something: the form's remarks, the sign page, the record with its findings."""
