"""Water in the air: vapour pressure, dew point, wet bulb, and what heat feels like.

Temperatures in C, humidity in per cent of saturation over water, pressures in Pa. Any shape.
"""

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import ArrayLike, NDArray

MAGNUS_B, MAGNUS_C = 17.625, 243.04
SEA_LEVEL_PA = 101_325.0
VAPOUR_TO_AIR = 0.622  # molar mass of water over that of air


def saturation_pa(temp_c: "ArrayLike") -> "NDArray[np.float64]":
    """Pressure of saturated vapour over water [Pa]; within 0.4 % from -40 to 50 C.

    Source:
        Magnus, 610.94 exp(17.625 t / (243.04 + t)), Alduchov and Eskridge 1996 (from memory).
    """
    import numpy as np

    t = np.asarray(temp_c, float)
    told: NDArray[np.float64] = 610.94 * np.exp(MAGNUS_B * t / (MAGNUS_C + t))
    return told


def vapour_pa(temp_c: "ArrayLike", humidity_pct: "ArrayLike") -> "NDArray[np.float64]":
    """Pressure of the vapour in air [Pa]."""
    import numpy as np

    told: NDArray[np.float64] = saturation_pa(temp_c) * np.asarray(humidity_pct, float) / 100
    return told


def dew_point_of_c(vapour: "ArrayLike") -> "NDArray[np.float64]":
    """Temperature at which a vapour pressure saturates [C]: undoes `saturation_pa`.

    Args:
        vapour: Vapour pressure [Pa], above 0.
    """
    import numpy as np

    log = np.log(np.asarray(vapour, float) / 610.94)
    told: NDArray[np.float64] = MAGNUS_C * log / (MAGNUS_B - log)
    return told


def dew_point_c(temp_c: "ArrayLike", humidity_pct: "ArrayLike") -> "NDArray[np.float64]":
    """Temperature at which air of this humidity begins to wet things [C].

    Raises:
        ValueError: Unless every humidity is above 0 and at most 100.
    """
    _of_humidity(humidity_pct)
    return dew_point_of_c(vapour_pa(temp_c, humidity_pct))


def wet_bulb_c(temp_c: "ArrayLike", humidity_pct: "ArrayLike") -> "NDArray[np.float64]":
    """Temperature of a wet thermometer in moving air, near sea level [C].

    Holds from -20 to 50 C and 5 to 99 %, within -1 and +0.65 K.

    Source:
        Stull 2011, J. Appl. Meteor. Climatol. 50:2267-2269, eq. 1.
    """
    import numpy as np

    t, rh = np.asarray(temp_c, float), np.asarray(humidity_pct, float)
    _of_humidity(rh)
    told: NDArray[np.float64] = (
        t * np.arctan(0.151977 * np.sqrt(rh + 8.313659))
        + np.arctan(t + rh)
        - np.arctan(rh - 1.676331)
        + 0.00391838 * rh**1.5 * np.arctan(0.023101 * rh)
        - 4.686035
    )
    return told


def heat_index_c(temp_c: "ArrayLike", humidity_pct: "ArrayLike") -> "NDArray[np.float64]":
    """What hot, humid air feels like to a person at rest in the shade [C]; from 27 C on.

    Of people: for a bird it is a proxy and no more.

    Source:
        Rothfusz 1990, NWS SR 90-23, in C, without its adjustments (coefficients from memory).
    """
    import numpy as np

    t, r = np.asarray(temp_c, float), np.asarray(humidity_pct, float)
    told: NDArray[np.float64] = (
        -8.784695 + 1.61139411 * t + 2.338549 * r - 0.14611605 * t * r
        - 1.2308094e-2 * t**2 - 1.6424828e-2 * r**2 + 2.211732e-3 * t**2 * r
        + 7.2546e-4 * t * r**2 - 3.582e-6 * t**2 * r**2
    )  # fmt: skip
    return told


def humidity_of_pct(temp_c: "ArrayLike", vapour: "ArrayLike") -> "NDArray[np.float64]":
    """Humidity of air that holds this vapour, 100 at most [%]; the rest wets things."""
    import numpy as np

    share: NDArray[np.float64] = 100 * np.asarray(vapour, float) / saturation_pa(temp_c)
    told: NDArray[np.float64] = np.minimum(share, 100.0)
    return told


def _of_humidity(humidity_pct: Any) -> None:
    import numpy as np

    humidity = np.asarray(humidity_pct, float)
    sound = (humidity > 0) & (humidity <= 100)
    if not sound.all():
        raise ValueError(
            f"humidity must be above 0 and at most 100 %, got {humidity[~sound].flat[0]:g}"
        )
