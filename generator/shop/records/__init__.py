"""One frozen record type a noun. What each key means stands beside it, and goes into the schema."""
