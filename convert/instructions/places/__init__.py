"""Reads where a stitch goes."""
