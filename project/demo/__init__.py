"""The invented firms of `fixtures/demo`: two years of work, entered through the services that people use."""
