"""The rule book: one module per subject, one registry."""
