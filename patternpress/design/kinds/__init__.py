"""The kinds of problems, in families; each class is one kind, its docstring its page."""
