"""Stitch and word translation between the term systems.

`naming.term` is the only function that yields a stitch's name.
"""
