"""Charts of shoulders: what they show, how it is drawn, and the files they are written to."""
