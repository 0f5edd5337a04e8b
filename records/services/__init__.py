"""Everything that writes records: planning, drafts, signing."""
