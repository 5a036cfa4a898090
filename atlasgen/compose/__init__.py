"""Pure: puts facts into words, drawings and pages."""
