# Lengths of cubic Bezier curves by QUADPACK's adaptive integration, as SciPy has
# it: what lengths.csv beside this holds. Run as
#
#     python3 lengths.py > lengths.csv
#
# with Debian's python3-scipy. The curves are drawn with a fixed seed; in some of
# them a control point lies on its end, they close on themselves or come near a cusp.
import random
import sys

import numpy
import scipy
from scipy.integrate import quad

rand = random.Random(20240501)


def length(p, t0=0.0, t1=1.0):
    p = numpy.array(p)

    def speed(t):
        u = 1 - t
        return numpy.hypot(*(3 * u * u * (p[1] - p[0]) + 6 * u * t * (p[2] - p[1]) + 3 * t * t * (p[3] - p[2])))

    # Split where the curve is slowest, so that each part is smooth.
    ts = numpy.linspace(t0, t1, 2001)
    v = [speed(t) for t in ts]
    inner = [ts[i] for i in range(1, 2000) if v[i] < v[i - 1] and v[i] < v[i + 1]]
    cuts = [t0, *inner, t1]
    return sum(quad(speed, a, b, epsabs=1e-14, epsrel=1e-13, limit=2000)[0] for a, b in zip(cuts, cuts[1:]))


def curves():
    for _ in range(60):
        yield [(rand.uniform(-3, 3), rand.uniform(-3, 3)) for _ in range(4)]
    for _ in range(10):
        p = [(rand.uniform(0, 0.5), rand.uniform(0, 0.5)) for _ in range(4)]
        yield [p[0], p[0], p[2], p[3]]
        yield [p[0], p[1], p[3], p[3]]
        yield [p[0], p[1], p[2], p[0]]
    for k in range(10):  # loops that draw together to a cusp
        e = 10.0 ** -(k + 1)
        yield [(0, 0), (1 + e, 1), (0 - e, 1), (1, 0)]


print(f"# {sys.argv[0]}: SciPy {scipy.__version__}, NumPy {numpy.__version__}; x0,y0,x1,y1,x2,y2,x3,y3,length in m,length of the part from t = 0.3 to 0.8")
for p in curves():
    print(",".join(repr(float(v)) for q in p for v in q), repr(float(length(p))), repr(float(length(p, 0.3, 0.8))), sep=",")
