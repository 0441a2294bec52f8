"""What established solvers make of small convex programs.

usage: python3 programs.py FILE

FILE is a JSON list of {a: [[...] per row], b, c, w, lo, hi (null: no limit),
costs: [[...]], cap (null: none), times}. For each this prints
{feasible, cost, lower, bounds, within, qp_ms, lp_ms, cap_ms}:

  feasible   HiGHS finds a point
  cost       least of 1/2 sum w x^2 + c.x by CVXOPT, and lower: its dual bound
  bounds     least of each of the costs by HiGHS (null: it falls for ever)
  within     the same where 1/2 sum w x^2 <= cap, by CVXOPT
  *_ms       the shortest processor time of one solution, building not counted
"""
import json
import os
import sys
import time

os.environ["OPENBLAS_NUM_THREADS"] = "1"  # small matrices, and others want the other cores

import numpy as np
from cvxopt import matrix, solvers, spmatrix
from scipy.linalg import qr
from scipy.optimize import linprog

solvers.options.update(show_progress=False, maxiters=50)


def timed(times, call):
    best, out = float("inf"), None
    for _ in range(max(times, 1)):
        start = time.process_time()
        out = call()
        best = min(best, time.process_time() - start)
    return out, 1000 * best


def closest(times, call):
    """The answer at the strictest tolerance that CVXOPT bears here, by its own
    choice of linear algebra or by the slower and steadier one."""
    for tolerance in (1e-10, 1e-8):
        solvers.options.update(abstol=tolerance, reltol=tolerance, feastol=tolerance)
        for algebra in (None, "ldl"):
            try:
                got, ms = timed(times, lambda: call(algebra))
                if got["status"] == "optimal":
                    return (got["primal objective"], got["dual objective"]), ms
            except (ArithmeticError, ValueError):
                pass
    return (None, None), None


def independent(a, b):
    """Rows of full rank that say the same; CVXOPT needs that."""
    scale = np.maximum(np.abs(a).max(axis=1, initial=0), 1e-300)
    a, b = a / scale[:, None], b / scale
    if not a.size:
        return a[:0], b[:0]
    _, r, order = qr(a.T, mode="economic", pivoting=True)
    diagonal = np.abs(np.diag(r))
    rank = int((diagonal > 1e-10 * max(diagonal[0], 1e-300)).sum())
    keep = np.sort(order[:rank])
    return a[keep], b[keep]


def limits(lo, hi):
    """lo <= x <= hi as G x <= h."""
    n = len(lo)
    top = np.flatnonzero(np.isfinite(hi))
    rows = list(range(n)) + list(range(n, n + len(top)))
    g = spmatrix([-1.0] * n + [1.0] * len(top), rows, list(range(n)) + [int(j) for j in top], (n + len(top), n))
    return g, matrix(np.concatenate([-lo, hi[top]]))


def answer(p):
    b, c, w, lo = (np.array(p[k], float) for k in ("b", "c", "w", "lo"))
    hi = np.array([np.inf if v is None else v for v in p["hi"]], float)
    a = np.array(p["a"], float).reshape(len(b), len(c))
    box = np.column_stack([lo, hi])
    times = p.get("times") or 1

    def linear(cost):
        options = dict(primal_feasibility_tolerance=1e-10, dual_feasibility_tolerance=1e-10)
        return linprog(cost, A_eq=a, b_eq=b, bounds=box, method="highs-ds", options=options)

    found, lp_ms = timed(times, lambda: linear(0 * c))
    out = {"feasible": found.status == 0, "lp_ms": lp_ms}
    if found.status not in (0, 2):
        out["unsure"] = True
    if not out["feasible"]:
        return out
    ra, rb = independent(a, b)
    g, h = limits(lo, hi)
    n = len(c)
    args = (matrix(c), g, h, matrix(ra), matrix(rb))
    square = spmatrix(w, range(n), range(n))
    (out["cost"], out["lower"]), out["qp_ms"] = closest(times, lambda algebra: solvers.qp(square, *args, kktsolver=algebra))
    out["bounds"], out["within"] = [], []
    for cost in p.get("costs") or []:
        got = linear(np.array(cost, float))
        out["bounds"].append(got.fun if got.status == 0 else None)
    if p.get("cap") is not None:
        # |sqrt(w) x| <= sqrt(2 cap) as a second-order cone behind the limits.
        weighted = np.flatnonzero(w)
        cone = spmatrix(-np.sqrt(w[weighted]), range(1, len(weighted) + 1), [int(j) for j in weighted], (len(weighted) + 1, n))
        both = spmatrix(list(g.V) + list(cone.V), list(g.I) + [i + g.size[0] for i in cone.I], list(g.J) + list(cone.J), (g.size[0] + cone.size[0], n))
        side = matrix(np.concatenate([np.array(h).ravel(), [np.sqrt(2 * p["cap"])], np.zeros(len(weighted))]))
        dims = {"l": g.size[0], "q": [len(weighted) + 1], "s": []}
        for cost in p.get("costs") or []:
            aim = matrix(np.array(cost, float))
            got, out["cap_ms"] = closest(times, lambda algebra: solvers.conelp(aim, both, side, dims, args[3], args[4], kktsolver=algebra))
            out["within"].append(got)
    return out


with open(sys.argv[1]) as file:
    json.dump([answer(p) for p in json.load(file)], sys.stdout)
