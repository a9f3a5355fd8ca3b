"""The command `slopewise serve`."""

from __future__ import annotations

import argparse

from rewriter.commandfiles import Usage


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the arguments of the command."""
    parser.add_argument(
        "--port", type=int, default=0, metavar="N", help="port to listen at (default: a free one)"
    )
    parser.add_argument("--no-browser", action="store_true", help="do not open the browser")


def run(args: argparse.Namespace) -> None:
    """Serve until Ctrl-C; raises Usage where the port cannot be had."""
    from rewriter.web.server import PortTaken, serve

    try:
        serve(args.port, not args.no_browser)
    except PortTaken as error:
        raise Usage(str(error)) from None
