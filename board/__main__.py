"""`python -m board` is the same as `board`."""

from board.cli import main

if __name__ == "__main__":
    main()
