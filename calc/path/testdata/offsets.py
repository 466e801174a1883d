# Lengths of curves beside cubic Bezier curves by QUADPACK's adaptive integration, as SciPy has it:
# what offsets.csv beside this holds. A curve beside another one at d, to the left where d is
# positive, has the speed |C'| - d (C' x C'') / |C'|^2. Run as
#
#     python3 offsets.py > offsets.csv
#
# with Debian's python3-scipy. The curves are drawn with a fixed seed; each lies where there is room for it.
import random
import sys

import numpy
import scipy
from scipy.integrate import quad

rand = random.Random(20260301)


def derivatives(p, t):
    u = 1 - t
    first = 3 * (u * u * (p[1] - p[0]) + 2 * u * t * (p[2] - p[1]) + t * t * (p[3] - p[2]))
    second = 6 * (u * (p[2] - 2 * p[1] + p[0]) + t * (p[3] - 2 * p[2] + p[1]))
    return first, second


def beside(p, d):
    p = numpy.array(p)

    def speed(t):
        a, b = derivatives(p, t)
        v = numpy.hypot(*a)
        return v - d * (a[0] * b[1] - a[1] * b[0]) / v**2

    if min(speed(t) / numpy.hypot(*derivatives(p, t)[0]) for t in numpy.linspace(0, 1, 2001)) < 0.02:
        return None  # it would loop back
    cuts = numpy.linspace(0, 1, 21)
    return sum(quad(speed, a, b, epsabs=1e-14, epsrel=1e-13, limit=2000)[0] for a, b in zip(cuts, cuts[1:]))


print(f"# {sys.argv[0]}: SciPy {scipy.__version__}, NumPy {numpy.__version__}; x0,y0,x1,y1,x2,y2,x3,y3,distance in m,length beside it in m")
found = 0
while found < 60:
    p = [(rand.uniform(-2, 2), rand.uniform(-2, 2)) for _ in range(4)]
    d = rand.choice([-1, 1]) * rand.uniform(0.01, 0.4)
    l = beside(p, d)
    if l is not None:
        found += 1
        print(",".join(repr(float(v)) for q in p for v in q), repr(d), repr(float(l)), sep=",")
