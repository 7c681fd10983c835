"""Small patterns of our own that several tests share."""

from __future__ import annotations

HAT = """\
format: "1"
title: Harbour Hat
terms: us
summary: A close cap, worked in a spiral from the crown down.
sizes:
  - {id: s, name: S}
  - {id: m, name: M}
gauge: {stitches: 14, rows: 16, over: 10 cm, stitch: sc}
yarn:
  - {name: Quayside Wool, weight: 4, colour: slate}
hooks: [5.5 mm]
parts:
  - name: Crown
    worked: spiral
    rows: |
      Rnd 1: 6 sc in adjustable ring. (6)
      Rnd 2: 2 sc in each st around. (12)
      Rnd 3: *Sc in next st, 2 sc in next st; rep from * around. (18)
      Next 4 (6) rnds: Sc in each st around. (18)
finishing: Fasten off and weave in the ends.
"""
"""Two sizes, no mistake."""

WRONG_HAT = HAT.replace("2 sc in each st around. (12)", "2 sc in each st around. (13)")
"""The same with one count that is off by one."""
