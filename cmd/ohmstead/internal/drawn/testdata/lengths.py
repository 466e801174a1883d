#!/usr/bin/python3
"""Writes lengths.txt: the length in mm of every sub-path of the drawings beside
it that anybody sees, in the order in which they are painted, as a library reads
them that shares nothing with this program: svgelements (MIT licence), Debian's
python3-svgelements 1.7.2 with python3-numpy. Run it in this directory.

Only its reading of the file is used. Lengths are those of 20,000 chords to each
curve, mapped by the element's transform, as that version turns ellipses wrongly
when it maps them itself."""

import glob
import math

import numpy as np
from svgelements import SVG, Close, Line, Matrix, Move, Path, Shape

# mm to a unit of those that say no real size; the test gives the same as a scale.
SCALE = {"hand-shapes.svg": 2.5}

# What that version does not know, by file and place in it, counted from 0: the
# length in a closed form, or None where it is left out, and why.
BACKGROUND = (None, "a background as large as the page")
AGAIN = "it maps what is used again twice; as long as the first, times the scale"
PETAL = 184.2275
OTHERWISE = {
    ("graphviz.svg", 0): BACKGROUND,
    ("plotutils.svg", 0): BACKGROUND,
    ("hand-inches.svg", 2): (2 * (9 + 6) * 25.4, "25 % of 36 in, and 6 in"),
    ("hand-shapes.svg", 10): (2 * math.pi * 30 * 2.5, "a radius alone is both, SVG 2 section 10.4"),
    ("hand-use.svg", 1): (PETAL, AGAIN),
    ("hand-use.svg", 2): (PETAL, AGAIN),
    ("hand-use.svg", 4): (PETAL / 2, AGAIN),
    ("hand-use.svg", 5): (PETAL / 2, AGAIN),
    ("hand-use.svg", 6): (2 * math.pi * 40, "a symbol of 10 in 200 x 100 is scaled by 10"),
    ("hand-use.svg", 11): (None, "only the first of a switch is painted"),
}


def seen(e):
    v = e.values
    return (v.get("visibility") not in ("hidden", "collapse") and v.get("display") != "none"
            and not (v.get("fill") == "none" and v.get("stroke") in (None, "none")))


def length(sub, m):
    total = 0
    for seg in sub:
        if isinstance(seg, Move) or seg.start is None or seg.end is None:
            continue
        if isinstance(seg, (Line, Close)):
            p = np.array([list(seg.start), list(seg.end)], float)
        else:
            p = np.array(seg.npoint(np.linspace(0, 1, 20001)), float)
        x = m.a * p[:, 0] + m.c * p[:, 1]
        y = m.b * p[:, 0] + m.d * p[:, 1]
        total += np.hypot(np.diff(x), np.diff(y)).sum()
    return total


with open("lengths.txt", "w") as out:
    for name in sorted(glob.glob("*.svg")):
        place = 0
        svg = SVG.parse(name, reify=False, ppi=96)
        for e in svg.elements():
            if not isinstance(e, Shape) or not seen(e):
                continue
            m = Matrix(e.transform)
            e.transform.reset()
            for sub in Path(e).as_subpaths():
                n = length(list(sub), m) * SCALE.get(name, 25.4 / 96)
                if n == 0:
                    continue
                n, why = OTHERWISE.get((name, place), (n, ""))
                place += 1
                if n is not None:
                    print((name + " %.4f " % n + why).strip(), file=out)
