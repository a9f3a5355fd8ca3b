"""The page on the knitter's own machine, and the HTTP interface beside it."""
