"""What needs a person today: what harms most on top, and in each group what is due first. For managers."""
