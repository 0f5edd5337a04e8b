"""What the law of a place may state: the columns of the table of what each pack covers."""

TOPICS = (
    "permission",
    "licences",
    "records",
    "retention",
    "access",
    "customer-copy",
    "notices",
    "neighbours",
    "registries",
    "posting",
    "weather",
    "reports",
)
