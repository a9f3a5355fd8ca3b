"""Data of the language: clause grammar, lexicon and house styles (installed as rewriter.grammar)."""
