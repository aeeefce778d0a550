"""Read a design file.

In: the text of one YAML design file (and of the shared file it names).
Out: a `Design`, where every scalar has been read as text and typed by us, every name is
known, and every problem found on the way is a located record.
"""
