"""Run the command line: `python -m gambrel`."""

from gambrel.cli import main

if __name__ == "__main__":
    raise SystemExit(main())
