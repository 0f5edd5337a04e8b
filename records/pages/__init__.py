"""The pages of records: plan, form, register, record, mixing calculator. They know nothing of rules."""
