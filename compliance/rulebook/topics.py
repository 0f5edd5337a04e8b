"""What the law of a place may state: the columns of the table of what each pack covers."""

TOPICS = (
    "permission",
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
