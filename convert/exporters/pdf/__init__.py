"""A `Document` to PDF: pages laid out in a process of its own, fitted, tagged."""
