"""The records of a design: what an author can say, one class a table."""
