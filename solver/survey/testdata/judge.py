"""An independent judge of the survey estimate.

Reads flights from standard input as JSON, one a line, and solves each with
scipy.optimize.least_squares (general-purpose, dense) from the observation
equations written here afresh. The covariance is numpy's dense inverse of the
normal matrix. Prints one JSON line a flight: unknowns and their standard
deviations.
"""

import json
import sys

import numpy as np
from scipy.optimize import least_squares



def solve(flight):
    steps = flight["steps"]
    at, n = [], 0
    for s in steps:
        at.append(n)
        n += 2 * s["corners"] + 5
    prior = np.array(flight["prior"])
    spread = np.array(flight["spread"])

    def unpack(x, i):
        c = steps[i]["corners"]
        p = x[at[i] : at[i] + 2 * c].reshape(c, 2)
        return p, x[at[i] + 2 * c : at[i] + 2 * c + 5]

    def length(v):
        return np.sqrt(v @ v)

    def beside(a, b, p):
        """Distance of p to the left of the line from a to b."""
        d = b - a
        e = p - a
        return (d[0] * e[1] - d[1] * e[0]) / length(d)

    def angle(p, c):
        a = p[(c + 1) % len(p)] - p[c]
        b = p[(c - 1) % len(p)] - p[c]
        return np.arctan2(a[0] * b[1] - a[1] * b[0], a @ b) % (2 * np.pi)

    def value(x, kind, i):
        if i < 0:
            p, h = unpack(x, 0)
            q, k = unpack(x, len(steps) - 1)
            s, t = steps[0], steps[-1]
            fl, fr, gl, gr = p[s["fl"]], p[s["fr"]], q[t["fl"]], q[t["fr"]]
            return {
                "total_rise": lambda: (k[0] + k[1]) / 2,
                "total_going": lambda: beside(fl, fr, (gl + gr) / 2),
                "long_diagonal_left": lambda: length(gr - fl),
                "long_diagonal_right": lambda: length(gl - fr),
            }[kind]()
        p, h = unpack(x, i)
        s = steps[i]
        fl, fr, br, bl = (p[s[c]] for c in ("fl", "fr", "br", "bl"))
        if i > 0:
            o, g = unpack(x, i - 1)
            ofl, ofr = o[steps[i - 1]["fl"]], o[steps[i - 1]["fr"]]
        else:
            g = np.zeros(5)
        return {
            "front_width": lambda: length(fr - fl),
            "middle_width": lambda: length((fr + br - fl - bl) / 2),
            "back_width": lambda: length(br - bl),
            "left_depth": lambda: length(bl - fl),
            "right_depth": lambda: length(br - fr),
            "diagonal_left": lambda: length(fr - bl),
            "diagonal_right": lambda: length(fl - br),
            "gauge_front_left": lambda: angle(p, s["fl"]),
            "gauge_front_right": lambda: angle(p, s["fr"]),
            "gauge_back_right": lambda: angle(p, s["br"]),
            "gauge_back_left": lambda: angle(p, s["bl"]),
            "lean_left": lambda: h[3],
            "lean_right": lambda: h[4],
            "rise_left": lambda: h[0] - g[0],
            "rise_right": lambda: h[1] - g[1],
            "going_left": lambda: beside(ofl, ofr, fl),
            "going_right": lambda: beside(ofl, ofr, fr),
            "tilt_across": lambda: np.arctan((h[1] - h[0]) / length(fr - fl)),
            "tilt_fore": lambda: np.arctan(h[2]),
        }[kind]()

    def residuals(x):
        out = list((x - prior) / spread)
        for r in flight["readings"]:
            out.append((value(x, r["kind"], r["step"]) - r["value"]) / r["spread"])
        for i, s in enumerate(steps):
            p, h = unpack(x, i)
            fl, fr, br, bl = (p[s[c]] for c in ("fl", "fr", "br", "bl"))
            tilt = np.arctan((h[1] - h[0]) / length(fr - fl))
            out.append((tilt - s["tilt"]) / flight["level_spread"])
            if i == len(steps) - 1:
                for c in (bl, br):
                    out.append((beside(fl, fr, c) - flight["landing"]) / flight["nose_spread"])
                continue
            q, k = unpack(x, i + 1)
            ql, qr = q[steps[i + 1]["fl"]], q[steps[i + 1]["fr"]]
            for c in (ql, qr):
                out.append((beside(bl, br, c) + flight["forward"]) / flight["nose_spread"])
            for c in (ql, q[steps[i + 1]["bl"]]):
                out.append((beside(fl, bl, c) - (k[0] - h[0]) * np.tan(h[3])) / flight["side_spread"])
            for c in (qr, q[steps[i + 1]["br"]]):
                out.append((beside(fr, br, c) + (k[1] - h[1]) * np.tan(h[4])) / flight["side_spread"])
        return np.array(out)

    fit = least_squares(residuals, prior, jac="3-point", method="trf", x_scale="jac", xtol=1e-15, ftol=1e-15, gtol=1e-15, max_nfev=100)
    # polish: Gauss-Newton with a central-difference Jacobian, dense
    x = fit.x
    for _ in range(4):
        J = jacobian(residuals, x)
        step = np.linalg.lstsq(J, -residuals(x), rcond=None)[0]
        x = x + step
    J = jacobian(residuals, x)
    cov = np.linalg.inv(J.T @ J)
    return {"x": x.tolist(), "sd": np.sqrt(np.diag(cov)).tolist(), "scipy_moved": float(np.max(np.abs(x - fit.x)))}


def jacobian(f, x):
    """Five-point central differences: truncation h^4, rounding 1e-16/h."""
    cols = []
    for i in range(len(x)):
        h = 1e-2 if abs(x[i]) > 1 else 1e-4
        e = np.zeros_like(x)
        e[i] = h
        cols.append((8 * (f(x + e) - f(x - e)) - (f(x + 2 * e) - f(x - 2 * e))) / (12 * h))
    return np.array(cols).T


for line in sys.stdin:
    if line.strip():
        print(json.dumps(solve(json.loads(line))))
