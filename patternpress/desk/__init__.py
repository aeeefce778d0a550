"""The desk: the command line, and how problems are shown there.

In: what the user types.  Out: booklets, facts and explanations, or problem records in words,
and an exit code.  Only the design room's reader and this room touch the user's files.
"""
