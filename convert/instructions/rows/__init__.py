"""Reads what concerns whole rows: labels, rows worked again, rows told by other rows, how long they go on."""
