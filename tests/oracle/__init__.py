"""A second opinion on what a plan means electrically, written from the definitions and not from the tool."""
