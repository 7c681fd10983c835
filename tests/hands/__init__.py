"""Texts in invented hands: proved patterns as people type them, by a writer that shares no wording with ours."""
