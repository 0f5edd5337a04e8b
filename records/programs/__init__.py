"""What other programs are told and may do over the API: tokens, problems, repeats, pages, hooks."""
