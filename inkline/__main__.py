"""`python -m inkline` is the command `inkline`."""

from inkline.cli import main

if __name__ == "__main__":
    main()
