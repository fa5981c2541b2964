"""`python -m qbank` is the command `qbank`."""

from qbank.cli import main

if __name__ == "__main__":
    main(prog_name="qbank")
