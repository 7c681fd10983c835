"""The neutral pattern document: records, the instruction tree, numbers, lengths and prose."""
