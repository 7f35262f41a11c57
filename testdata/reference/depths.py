"""Depths of a small field, by plain conditioning of one joint Gaussian a supposition.

    python3 testdata/reference/depths.py > testdata/reference/depths.json

The field of survey/depth/worked_test.go: a box at the origin, a header to the
start of one lateral, three level shots, one crown that was met. Whatever is not
known is a latent number with a prior, every depth and height a linear function
of them; mean and covariance follow from the rule of the conditional Gaussian
(Rasmussen & Williams, eq. A.6), with a full covariance of all latents and
places. The priors are those of survey/depth and asbuilt/practice; the way they
are put together is written independently. Python 3.11, NumPy. Metres.
"""

import json
from math import exp, hypot, log, pi

import numpy as np

# weight, standard deviations of relief, rough and smooth fill, stepped
level = [(0.58, 0.06, 0.02, 0.28, 0), (0.17, 0.12, 0.27, 0, 0), (0.19, 0.06, 0.02, 0.28, 1), (0.06, 0.12, 0.27, 0, 1)]
box, start, end = (0, 0), (10.3, 0), (30.3, 0)
tank = (-8, 3)
middle = (5.15, 0)
centre = ((0 + 20.3 + 5.15 - 8) / 4, 3 / 4)  # of box, lateral, header and tank

latents = {  # mean, sigma; of the last, when the laterals are stepped
    "datum": (10.1, 10), "east": (0, 0.05), "north": (0, 0.05), "fill": (0.2, 0.11), "record": (0, 0.08),
    "header grade": (0.015, 0.005), "box": (-0.8, 3), "grade": (0.002, 0.0015),
    "tank": ((0, 0.10), (0, 0.40)),
    "start": ((0, hypot(0.006, 0.02)), (-0.2, 0.4)), "header": (0, 0.03),
    "crown": (0.10706, 0.003), "top": (0.10706 + 0.0508, 0.03), "bottom": (-0.1524, 0.08), "header crown": (0.10706, 0.003),
    "lid": (0.25, 0.10), "floor": (-0.10, 0.05), "tank lid": (0.40, 0.15),
    "own cover": (0, 0.06), "starts": (0, 0.10), "ends": (0, 0.10), "usual cover": (0.6, 0.12),
}


def q(at=None, relief=0, spread=0, const=0, **terms):
    return {"at": at, "relief": relief, "spread": spread, "const": const, "terms": {k.replace("_", " "): v for k, v in terms.items()}}


def add(a, k, b):
    t = dict(a["terms"])
    for name, v in b["terms"].items():
        t[name] = t.get(name, 0) + k * v
    return dict(a, const=a["const"] + k * b["const"], terms=t)


def ground(v):
    return q(v, 1, 1, east=v[0] - centre[0], north=v[1] - centre[1])


def lateral(s):  # the header falls 10 m from the wall of the box, 0.3 m off its middle
    return q(box=1, start=1, header_grade=-10, grade=-s)


def header(u):
    e = q(header=1)
    return add(add(e, 1 - u, q(box=1)), u, lateral(0))


def of_tank():  # the tank lies above the box, by the header's fall and the 1 in of the box's inlet
    return q(box=1, tank=1, header_grade=hypot(8, 3), const=0.03)


def depth(v, invert, feature):
    return add(add(ground(v), -1, invert), -1, q(**{feature: 1}))


def record(d, *also):
    d = dict(d, spread=0)
    for name in ("fill",) + also:
        d = add(d, -1, q(**{name: 1}))
    return d


records = [
    (record(depth(box, q(box=1), "lid")), 0.45, 0.15),
    (record(depth(start, lateral(0), "crown"), "own cover", "record", "starts"), 0.6, 0.06),
    (record(depth(end, lateral(20), "crown"), "own cover", "record", "ends"), 0.6, 0.06),
    (record(depth(middle, header(0.5), "header crown"), "usual cover"), 0, 0.20),
    (record(depth(tank, of_tank(), "tank lid")), 0.38, 0.20),
]
readings = [
    (add(ground(box), 1, q(datum=1)), 10.0, 0.02),
    (add(ground(start), 1, q(datum=1)), 10.1, 0.02),
    (add(ground(end), 1, q(datum=1)), 10.2, 0.02),
    (depth((15.3, 0), lateral(5), "crown"), 0.95, hypot(0.02, 0.015)),
]
asked = {
    "box top": (depth(box, q(box=1), "lid"), 0), "box bottom": (depth(box, q(box=1), "floor"), 0),
    "L start crown": (depth(start, lateral(0), "crown"), 1), "L end invert": (depth(end, lateral(20), "invert"), 1),
    "L end top": (depth(end, lateral(20), "top"), 1), "L start bottom": (depth(start, lateral(0), "bottom"), 1),
    "H middle crown": (depth(middle, header(0.5), "header crown"), 1), "H start crown": (depth(box, header(0), "header crown"), 1),
    "tank top": (depth(tank, of_tank(), "tank lid"), 0), "off the line": (depth((20.3, 4), lateral(10), "crown"), 1),
}
asked["L end invert"][0]["terms"].pop("invert")
reach = 0.5  # how far off in plan a part may lie


def joint(qs, relief, spread, smooth, structure):
    names = list(latents)
    prior = [latents[n][structure] if isinstance(latents[n][0], tuple) else latents[n] for n in names]
    a = np.array([[x["terms"].get(n, 0) for n in names] for x in qs], float)
    mean = a @ [p[0] for p in prior] + [x["const"] for x in qs]
    cov = a @ np.diag([p[1] ** 2 for p in prior]) @ a.T
    for i, x in enumerate(qs):
        for j, y in enumerate(qs):
            if x["relief"] * y["relief"] or x["spread"] * y["spread"]:
                far = hypot(x["at"][0] - y["at"][0], x["at"][1] - y["at"][1])
                cov[i, j] += exp(-far / 8) * (x["relief"] * y["relief"] * relief ** 2 + x["spread"] * y["spread"] * spread ** 2)
                # the squared exponential of Rasmussen & Williams, eq. 4.9
                cov[i, j] += exp(-far ** 2 / (2 * 10 ** 2)) * x["spread"] * y["spread"] * smooth ** 2
    return mean, cov


def gauss(x, mean, cov):
    d = x - mean
    return -0.5 * d @ np.linalg.solve(cov, d) - 0.5 * np.linalg.slogdet(2 * pi * cov)[1]


seen = records + readings
value, noise, r = np.array([s[1] for s in seen]), np.array([s[2] for s in seen]), len(records)
want = [x[0] for x in asked.values()] + [q(east=1), q(north=1), q(centre, 0, 1, fill=1)]
parts = []
for weight, relief, spread, smooth, structure in level:
    mean, cov = joint([s[0] for s in seen] + want, relief, spread, smooth, structure)
    n = len(seen)
    k = cov[:n, :n] + np.diag(noise ** 2)
    gain = np.linalg.solve(k, cov[:n, n:]).T
    mu = mean[n:] + gain @ (value - mean[:n])
    var = np.diag(cov[n:, n:] - gain @ cov[:n, n:])
    evidence = gauss(value, mean[:n], k) - gauss(value[:r], mean[:r], k[:r, :r])
    slope = mu[-3] ** 2 + var[-3] + mu[-2] ** 2 + var[-2]
    parts.append((log(weight) + evidence, mu, var, slope))
top = max(p[0] for p in parts)
w = [exp(p[0] - top) for p in parts]
w = [x / sum(w) for x in w]
out = {}
for i, name in enumerate(list(asked) + ["", "", "fill"]):
    if name:
        line = asked[name][1] if name in asked else 0
        far = reach if name in asked else 0
        mean = sum(x * p[1][i] for x, p in zip(w, parts))
        var = sum(x * (p[2][i] + p[1][i] ** 2 + p[3] * far ** 2) for x, p in zip(w, parts)) - mean ** 2
        out[name] = [round(float(mean), 9), round(float((var + line * 0.015 ** 2) ** 0.5), 9)]
out["stepped"] = [round(w[2] + w[3], 9), 0]
print(json.dumps(out, indent=1))
