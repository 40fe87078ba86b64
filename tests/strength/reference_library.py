"""Values of a_library_by_another_program in test_batch_bound.c: moments of earlier scatter by scipy. Prints them."""
import math

import numpy as np
from scipy.optimize import brentq
from scipy.special import digamma, polygamma
from scipy.stats import f

s = np.array([0.08, 0.21, 0.12, 0.045, 0.15])
nu = np.array([4.0, 2, 9, 5, 4])
e = np.log(s**2) - digamma(nu / 2) + np.log(nu / 2)
excess = e.var(ddof=1) - polygamma(1, nu / 2).mean()
degrees = 2 * brentq(lambda y: polygamma(1, y) - excess, 1e-3, 1e6, xtol=1e-14, rtol=1e-14) if excess > 0 else math.inf
used = min(degrees, len(s))
s0 = math.sqrt((nu * s**2).sum() / nu.sum())
print(f"LIBRARY_EXCESS {excess:.15g}\nLIBRARY_DEGREES {degrees:.15g}\nLIBRARY_HIGHEST {s0 * math.sqrt(f.ppf(0.95, 3, used)):.15g}")
