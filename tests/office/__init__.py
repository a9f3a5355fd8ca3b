"""A slow sweep of the options over documents that a word processor opens, settles and prints."""
