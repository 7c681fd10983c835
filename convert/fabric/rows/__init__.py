"""One row in one size: its beginning, its readings, its end, and the edges it goes along."""
