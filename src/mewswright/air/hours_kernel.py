"""The heat of a room, hour by hour, compiled.

Two nodes: air without mass, and floor and boards with it. Within an hour everything is constant,
so the mass goes to its rest exponentially, in closed form, and the sums of heat close to a float's
hair. Air change by warmth depends on its outcome and is asked three times.

Import this inside the function that needs it: compiling costs a second or two, once.
"""

from typing import Any

import numpy as np
from numba import njit

AIR_J_M3_K = 1188.0  # 0.33 Wh for a kelvin and a cubic metre
KELVIN = 273.15
TURNS = 3
VENT, ENVELOPE, GROUND, SKY, SUN, BIRDS, HEATER, STORED = range(8)


@njit(cache=True)
def hours(
    out_c: Any, wind_q: Any, shell: Any, ground_c: Any, sky_c: Any, sun_air: Any, sun_mass: Any,
    shell_w_k: float, stack: float, mass_w_k: float, ground_w_k: float, sky_w_k: float,
    store_j_k: float, birds_w: Any, set_c: float, most_w: float,
) -> Any:  # fmt: skip
    """Air, air change and heater of each hour, and sums of heat in and out [kWh].

    Args:
        out_c: Air outside (hours,).
        wind_q: Air change by wind alone [m3/s] (hours,).
        shell: Walls and roof: their sum of W/K times the temperature that each sees (hours,).
        ground_c: Deep ground (hours,).
        sky_c: Sky (hours,).
        sun_air: Sun that warms the air [W] (hours,).
        sun_mass: Sun that warms floor and boards [W] (hours,).
        shell_w_k: Heat through walls and roof [W/K].
        stack: Air change by warmth over sqrt(dT / T) [m3/s].
        mass_w_k: Air to floor and boards [W/K].
        ground_w_k: Floor to the ground [W/K].
        sky_w_k: Floor to the sky [W/K].
        store_j_k: Heat that floor and boards hold [J/K].
        birds_w: Heat of birds (hours,).
        set_c: Air that a heater holds.
        most_w: Most that it gives; 0 for none.
    """
    count = len(out_c)
    air, change, heat = np.empty(count), np.empty(count), np.zeros(count)
    sums = np.zeros(8)
    # A year before the year: floor and boards begin as they would have been.
    mass, warmer = out_c[0], 0.0
    for n in range(-336, count):
        i = n if n >= 0 else count + n
        q, t, power = wind_q[i], 0.0, 0.0
        a, b, decay, start, mean, out = 0.0, 0.0, 0.0, mass, mass, 0.0
        for _turn in range(TURNS):
            by_warmth = stack * np.sqrt(abs(warmer) / (out_c[i] + KELVIN))
            q = np.sqrt(wind_q[i] ** 2 + by_warmth**2)
            out = AIR_J_M3_K * q
            total = out + shell_w_k
            inner = total + mass_w_k
            known = out * out_c[i] + shell[i] + sun_air[i] + birds_w[i]
            power = 0.0
            if most_w > 0.0:
                power = min(most_w, max(0.0, set_c * inner - known - mass_w_k * start))
            known += power
            b = mass_w_k * total / inner + ground_w_k + sky_w_k
            a = (
                mass_w_k * known / inner + ground_w_k * ground_c[i] + sky_w_k * sky_c[i]
                + sun_mass[i]
            )  # fmt: skip
            x = 3600.0 * b / store_j_k
            decay = np.exp(-x)
            rest = a / b
            mean = rest + (start - rest) * (1.0 - decay) / x
            t = (known + mass_w_k * mean) / inner
            warmer = 0.5 * (warmer + t - out_c[i])
        mass = a / b + (start - a / b) * decay
        if n < 0:
            continue
        air[n], change[n], heat[n] = t, q, power
        sums[VENT] += out * (out_c[i] - t) / 1000.0
        sums[ENVELOPE] += (shell[i] - shell_w_k * t) / 1000.0
        sums[GROUND] += ground_w_k * (ground_c[i] - mean) / 1000.0
        sums[SKY] += sky_w_k * (sky_c[i] - mean) / 1000.0
        sums[SUN] += (sun_air[i] + sun_mass[i]) / 1000.0
        sums[BIRDS] += birds_w[i] / 1000.0
        sums[HEATER] += power / 1000.0
        sums[STORED] += store_j_k * (mass - start) / 3.6e6
    return air, change, heat, sums
