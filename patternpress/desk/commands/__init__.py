"""The commands of the desk, one a module."""
