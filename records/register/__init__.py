"""The register, without a database: what it is asked for, by what a treatment is found, and its sums."""
