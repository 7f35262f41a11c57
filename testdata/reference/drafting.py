"""How the sheet of survey/drawing/drafting_example_test.go may err, worked out independently.

    python3 testdata/reference/drafting.py > testdata/reference/drafting.json

The covariance of the discrepancies of all drawn points is a sum of modes: the
field slid, turned and stretched against the house, the tank slid, laterals
displaced across, along, in length and in tilt, and every point by itself. The
method is least-squares collocation (Moritz, Advanced Physical Geodesy, part B);
the modes and their sizes are this project's own, of a sheet of each trust. What
is printed are covariances in square metres. Python 3.11, NumPy.
"""

import json
from math import exp, hypot, pi

import numpy as np

deg = pi / 180
trusts = {
    "to-scale": dict(shift=0.3, drift=0.01, turn=1 * deg, size=0.01, spacing=0.03, along=0.2, length=0.02, tilt=0.5 * deg,
                     box=0.2, landmark=0.10, point=0.055),
    "roughly": dict(shift=0.8, drift=0.04, turn=3 * deg, size=0.05, spacing=0.08, along=0.5, length=0.05, tilt=1.5 * deg,
                    box=0.5, landmark=0.205, point=0.0925),
    "not-to-scale": dict(shift=1.5, drift=0.10, turn=6 * deg, size=0.12, spacing=0.15, along=1.0, length=0.10, tilt=3 * deg,
                         box=1.0, landmark=0.38, point=0.155),
}
# The laterals run along (0.8, -0.6) and lie 2.5 m apart; the second is drawn from its far end.
along, across, long, spacing = np.array([0.8, -0.6]), np.array([-0.6, -0.8]), 20, 2.5
first = np.array([4, -9])
nodes = {  # place, whose it is; which lateral it lies on; u: fraction along that
    "A": ((0, 0), "house", None, 0), "B": ((10, 0), "house", None, 0), "tank": ((4, -4), "tank", None, 0),
    "box": ((2, -10), "field", None, 0),
    "L1 start": (first, "field", 1, 0), "L1 end": (first + long * along, "field", 1, 1),
    "L2 start": (first + spacing * across + long * along, "field", 2, 0), "L2 end": (first + spacing * across, "field", 2, 1),
    "H start": ((4, -4.5), "tank", None, 0), "H middle": ((3, -7), "field", None, 0),
    "port": (first + 0.25 * long * along + 0.1 * across, "field", 1, 0.25),
}
own = {1: along, 2: -along}  # the way that each is drawn
names = list(nodes)
at = {k: np.array(v[0], float) for k, v in nodes.items()}
of = {k: v[1] for k, v in nodes.items()}
mid = {g: np.mean([at[k] for k in names if of[k] == g], axis=0) for g in ("house", "tank", "field")}
root = np.mean([at["box"], at["L1 start"], at["L2 start"]], axis=0)
middle = {1: first + long * along / 2, 2: first + long * along / 2 + spacing * across}  # of each lateral


def covariance(f):
    n = 2 * len(names)
    c = {to: np.zeros((n, n)) for to in ("house", "block", "within")}

    def mode(to, sigma, value):
        v = np.concatenate([np.asarray(value(k), float) for k in names]) * sigma
        c[to] += np.outer(v, v)

    here = lambda g, w: lambda k: w if of[k] == g else np.zeros(2)
    for g, to, size in ("field", "block", 1), ("tank", "block", 0.65):
        away = np.linalg.norm(mid[g] - mid["house"])
        for w in np.eye(2):
            mode(to, hypot(size * f["shift"], f["drift"] * away), here(g, w))
    turned = lambda k: np.array([-(at[k] - root)[1], (at[k] - root)[0]]) if of[k] == "field" else np.zeros(2)
    mode("block", f["turn"], turned)
    mode("block", f["size"], lambda k: at[k] - root if of[k] == "field" else np.zeros(2))

    # Spacings add up: the difference of neighbours has spacing * f.spacing, about.
    s2 = 2 * (f["spacing"] * spacing) ** 2
    for i, a in enumerate(names):
        for j, b in enumerate(names):
            if nodes[a][2] and nodes[b][2]:
                apart = abs((middle[nodes[a][2]] - middle[nodes[b][2]]) @ across)
                c["within"][2 * i:2 * i + 2, 2 * j:2 * j + 2] += s2 * exp(-apart / (4 * spacing)) * np.outer(across, across)

    def lateral(sigma, w, which=(1, 2)):
        mode("within", sigma, lambda k: w(own[nodes[k][2]], nodes[k][3]) if nodes[k][2] in which else np.zeros(2))
    for which in (1, 2), (1,), (2,):
        lateral(0.6 * f["along"], lambda e, u: e, which)
        lateral(0.7 * f["length"], lambda e, u: e * (u - 0.5) * long, which)
    for which in (1,), (2,):
        lateral(0.6 * f["tilt"], lambda e, u: across * (u - 0.5) * long, which)

    for k in names:
        sigma = f["point"]
        if of[k] == "house":
            sigma = f["landmark"]
        if k == "B":
            # no corner of the drawn building: as far off as what is drawn about the house
            sigma = (sigma ** 2 + f["shift"] ** 2 / 4 + (f["drift"] * np.linalg.norm(at[k] - mid["house"])) ** 2 / 4) ** 0.5
        elif k == "box" or k.startswith("H"):
            sigma = hypot(f["box"], f["point"])
        for w in np.eye(2):
            mode("house" if of[k] == "house" else "within", sigma, lambda j: w if j == k else np.zeros(2))
    return c


out = {}
for trust in trusts:
    c = covariance(trusts[trust])
    o = out[trust] = {}
    for to in c:
        o[to] = {a: {b: np.round(c[to][2 * i:2 * i + 2, 2 * j:2 * j + 2], 12).ravel().tolist()
                     for j, b in enumerate(names) if j <= i} for i, a in enumerate(names)}
    sheet, block = 1.65, 0.65
    m = sheet ** 2 * c["house"] + block ** 2 * c["block"] + sheet * c["within"]
    o["log determinant"] = float(np.linalg.slogdet(m)[1])
    inverse = np.linalg.inv(m)[0]  # of the x of the first place
    o["first of the inverse"] = {k: inverse[2 * i:2 * i + 2].tolist() for i, k in enumerate(names)}
print(json.dumps(out))
