"""The author's page: the booklet shown while its design is written."""
