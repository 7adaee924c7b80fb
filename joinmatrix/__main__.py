"""`python -m joinmatrix`."""

from joinmatrix.cli.app import main

if __name__ == "__main__":
    main()
