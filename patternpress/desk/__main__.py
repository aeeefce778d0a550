"""``python -m patternpress.desk``: the command, where it is not on the path."""

from patternpress.desk.cli import main

if __name__ == "__main__":
    main(prog_name="patternpress")
