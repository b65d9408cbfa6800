"""The book's model into pages."""
