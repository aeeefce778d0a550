"""Make the booklet.

In: a `Model`, worked out for one edition, and a theme.  Out: a PDF and the lists beside it.
"""
