"""The six-item, five-period test set of price index theory, with its published results.

Prices and quantities: Balk, *Price and Quantity Index Numbers* (Cambridge 2008), tables 3.1 and
3.2; rows are items 1 to 6, columns periods 1 to 5.
"""

from __future__ import annotations

import numpy as np

PRICES = np.array(
    [
        [1, 1.2, 1, 0.8, 1],
        [1, 3, 1, 0.5, 1],
        [1, 1.3, 1.5, 1.6, 1.6],
        [1, 0.7, 0.5, 0.3, 0.1],
        [1, 1.4, 1.7, 1.9, 2],
        [1, 0.8, 0.6, 0.4, 0.2],
    ]
)
QUANTITIES = np.array(
    [
        [1, 0.8, 1, 1.2, 0.9],
        [1, 0.9, 1.1, 1.2, 1.2],
        [2, 1.9, 1.8, 1.9, 2],
        [1, 1.3, 3, 6, 12],
        [4.5, 4.7, 5, 5.6, 6.5],
        [0.5, 0.6, 0.8, 1.3, 2.5],
    ]
)
# Balk (2008), tables 3.4, 3.6 and 3.12, period 1 = 1, to four decimals, as the R package gpindex
# 0.6.3 prints them ("recreate tables 3.4, 3.6, and 3.12 from Balk (2008)").
PUBLISHED = {
    "laspeyres": [1, 1.4200, 1.3450, 1.3550, 1.4400],
    "paasche": [1, 1.3824, 1.2031, 1.0209, 0.7968],
    "fisher": [1, 1.4011, 1.2721, 1.1762, 1.0712],
    "tornqvist": [1, 1.4052, 1.2890, 1.2268, 1.2477],
    "walsh": [1, 1.4017, 1.2850, 1.2193, 1.1850],
    "marshall_edgeworth": [1, 1.4010, 1.2656, 1.1438, 0.9801],  # 1.14375 exactly: a tie
    "palgrave": [1, 1.6096, 1.4161, 1.5317, 1.6720],
    "geometric_laspeyres": [1, 1.3300, 1.2523, 1.1331, 1.0999],
    "harmonic_laspeyres": [1, 1.2542, 1.1346, 0.8732, 0.5556],
    "geometric_paasche": [1, 1.4846, 1.3268, 1.3282, 1.4153],
    "vartia_1": [1, 1.4024, 1.2907, 1.2392, 1.2678],
    "vartia_2": [1, 1.4018, 1.2897, 1.2335, 1.2540],
    "stuvel": [1, 1.4042, 1.2742, 1.1551, 0.9770],
}
