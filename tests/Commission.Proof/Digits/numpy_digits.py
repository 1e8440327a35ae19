"""Digits that numpy's least squares reaches on the certified linear sets; one line a set. Exit 1 where numpy is missing."""
import csv
import json
import math
import os
import sys

try:
    import numpy as np
except ImportError:
    sys.exit(1)

folder = sys.argv[1]
for name in sorted(os.listdir(folder)):
    if not name.endswith(".json"):
        continue
    with open(os.path.join(folder, name)) as f:
        case = json.load(f)
    with open(os.path.join(folder, case["data_file"])) as f:
        rows = np.array([[float(cell) for cell in row] for row in list(csv.reader(f))[1:]])
    certified = [float(e["value"]) for e in case["certified"]["estimates"].values()]
    y, x = rows[:, 0], rows[:, 1:]
    if x.shape[1] == 1 and len(certified) > 2:
        x = np.column_stack([x[:, 0] ** k for k in range(1, len(certified))])
    if case["intercept"]:
        x = np.column_stack([np.ones(len(y)), x])
    found = np.linalg.lstsq(x, y, rcond=None)[0]
    digits = 15.0
    for want, have in zip(certified, found):
        error = abs(have) if want == 0 else abs((have - want) / want)
        digits = min(digits, 15.0 if error == 0 else max(0.0, -math.log10(error)))
    print(case["data_file"].removesuffix(".csv"), f"{digits:.1f}")
