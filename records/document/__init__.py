"""The treatment document: types, strict reader, canonical form, edits, signed record. Pure."""
