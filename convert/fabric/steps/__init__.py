"""What the steps of a row do: stitches, moves, repeats."""
