"""Least squares by numpy and scipy; one problem a line on standard input, one answer a line and library on standard output.

In: name, CSV file (response first), degree of a polynomial or 0, 1 where there is a constant. Out: library, name, coefficients.
"""
import csv
import sys

try:
    import numpy as np
except ImportError:
    sys.exit(1)
try:
    import scipy.linalg as sl
except ImportError:
    sl = None

for line in sys.stdin:
    name, path, degree, constant = line.rstrip("\n").split("\t")
    with open(path) as f:
        rows = np.array([[float(cell) for cell in row] for row in list(csv.reader(f))[1:]])
    y, x = rows[:, 0], rows[:, 1:]
    if int(degree) > 0:
        x = np.column_stack([x[:, 0] ** k for k in range(1, int(degree) + 1)])
    if constant == "1":
        x = np.column_stack([np.ones(len(y)), x])
    answers = {"numpy": np.linalg.lstsq(x, y, rcond=None)[0]}
    if sl is not None:
        answers["scipy"] = sl.lstsq(x, y, lapack_driver="gelsy")[0]
    for library, found in answers.items():
        print(library, name, *(repr(float(value)) for value in found), sep="\t")
