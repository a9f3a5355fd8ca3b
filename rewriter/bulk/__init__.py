"""Folders of drafts: found, revised in parallel, written into a mirror of the tree, summed up.

    tree ──jobs──▶ run ──chunks──▶ worker (one draft within its limits) ──records──▶ manifest ──▶ summary

The manifest alone remembers what is done; a source is never written to.
"""
