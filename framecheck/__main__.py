"""`python -m framecheck`, and the installed command. Nothing is loaded here, so that Ctrl-C is answered in words from the first."""

import sys


def main() -> None:
    """Run the command line."""
    try:
        from framecheck.cli.main import run_and_exit

        run_and_exit()
    except KeyboardInterrupt:
        sys.stderr.write("stopped by the keyboard; nothing was left half written\n")
        sys.exit(130)


if __name__ == "__main__":
    main()
