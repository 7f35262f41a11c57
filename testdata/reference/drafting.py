"""How the sheet of survey/drafting_example_test.go may err, worked out independently.

    python3 testdata/reference/drafting.py > testdata/reference/drafting.json

The covariance of the discrepancies of all drawn points is a sum of modes: the
field slid, turned and stretched against the house, the tank slid, laterals
displaced across, along, in length and in tilt, and every point by itself. The
method is least-squares collocation (Moritz, Advanced Physical Geodesy, part B);
the modes and their sizes are this project's own, of a sheet drawn roughly. What
is printed are covariances in square metres. Python 3.11, NumPy.
"""

import json
from math import exp, hypot, pi

import numpy as np

deg = pi / 180
roughly = dict(shift=0.8, drift=0.04, turn=3 * deg, size=0.05, spacing=0.08, along=0.5, length=0.05, tilt=1.5 * deg,
               box=0.5, landmark=0.205, point=0.0925)
nodes = {  # place, whose it is; u: fraction along its lateral
    "A": ((0, 0), "house", None, 0), "B": ((10, 0), "house", None, 0), "tank": ((4, -4), "tank", None, 0),
    "box": ((2, -10), "field", None, 0),
    "L1 start": ((4, -9), "field", 1, 0), "L1 end": ((24, -9), "field", 1, 1),
    "L2 start": ((4, -11.5), "field", 2, 0), "L2 end": ((24, -11.5), "field", 2, 1),
}
names = list(nodes)
at = {k: np.array(v[0], float) for k, v in nodes.items()}
of = {k: v[1] for k, v in nodes.items()}
mid = {g: np.mean([at[k] for k in names if of[k] == g], axis=0) for g in ("house", "tank", "field")}
root = np.mean([at["box"], at["L1 start"], at["L2 start"]], axis=0)
along, across, long, spacing = np.array([1, 0]), np.array([0, -1]), 20, 2.5


def covariance(f):
    n = 2 * len(names)
    c = {"block": np.zeros((n, n)), "within": np.zeros((n, n))}

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
                apart = abs(at[a][1] - at[b][1])
                c["within"][2 * i:2 * i + 2, 2 * j:2 * j + 2] += s2 * exp(-apart / (4 * spacing)) * np.outer(across, across)

    def lateral(sigma, w, which=(1, 2)):
        mode("within", sigma, lambda k: w(nodes[k][3]) if nodes[k][2] in which else np.zeros(2))
    for which in (1, 2), (1,), (2,):
        lateral(0.6 * f["along"], lambda u: along, which)
        lateral(0.7 * f["length"], lambda u: along * (u - 0.5) * long, which)
    for which in (1,), (2,):
        lateral(0.6 * f["tilt"], lambda u: across * (u - 0.5) * long, which)

    for k in names:
        sigma = f["point"]
        if of[k] == "house":
            sigma = f["landmark"]
            # A and B are no corners of a drawn building: as far off as what is drawn about the house
            sigma = (sigma ** 2 + f["shift"] ** 2 / 4 + (f["drift"] * np.linalg.norm(at[k] - mid["house"])) ** 2 / 4) ** 0.5
        elif k == "box":
            sigma = hypot(f["box"], f["point"])
        for w in np.eye(2):
            mode("within", sigma, lambda j: w if j == k else np.zeros(2))
    return c


out = {}
c = covariance(roughly)
for to in c:
    out[to] = {a: {b: np.round(c[to][2 * i:2 * i + 2, 2 * j:2 * j + 2], 12).ravel().tolist()
                   for j, b in enumerate(names) if j <= i} for i, a in enumerate(names)}
all_, block = 1.65, 0.65
m = all_ ** 2 * (c["within"] + block ** 2 * c["block"])
out["log determinant"] = float(np.linalg.slogdet(m)[1])
out["first of the inverse"] = np.linalg.inv(m)[0].tolist()
print(json.dumps(out))
