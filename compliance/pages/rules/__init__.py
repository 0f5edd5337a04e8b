"""The pages about rules: what the packs say, open questions, coverage, the firm's own rules."""
